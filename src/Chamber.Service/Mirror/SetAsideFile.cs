using Chamber.Service.Configuration;

namespace Chamber.Service.Mirror;

/// <summary>Keeps lines that the server refused for good, each under the reason, for somebody to see. The readings themselves stay in the
/// journal.</summary>
internal sealed class SetAsideFile(DataDirectory data)
{
    /// <summary>The file grows to this, then further lines are only counted.</summary>
    public const long BytesMax = 1_000_000;

    public string Path => data.MirrorRefused;

    public void Add(IReadOnlyList<(string Line, string Reason)> refused)
    {
        if (refused.Count > 0 && (!File.Exists(Path) || new FileInfo(Path).Length < BytesMax))
        {
            File.AppendAllLines(Path, refused.SelectMany(pair => (string[])["# " + pair.Reason, pair.Line]));
        }
    }
}

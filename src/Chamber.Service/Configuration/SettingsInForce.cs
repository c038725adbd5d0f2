using System.Text.Json.Nodes;
using Chamber.Mqtt.Decoding;

namespace Chamber.Service.Configuration;

/// <summary>
/// The part of chamber.json that may be changed while the service runs: notices, mappings, and what others of the home reach. Whoever
/// uses it asks here each time. One for the service; may be read and changed from any thread.
/// </summary>
/// <param name="start">The settings that the service started with.</param>
/// <param name="data">Whose settings.</param>
/// <param name="environment">What overrides the file.</param>
internal sealed class SettingsInForce(Settings start, DataDirectory data, IReadOnlyCollection<KeyValuePair<string, string>> environment)
{
    private readonly Lock gate = new();
    private volatile Settings now = start;
    private (DateTime WrittenAt, long Length) seen = MarkOf(data);

    /// <summary>They have been changed. Called on the thread of whoever changed them.</summary>
    public event Action? Changed;

    public NoticeOptions Notices => now.Notices;

    /// <summary>Null when there are none.</summary>
    public QuietHoursSettings? QuietHours => now.QuietHours;

    /// <summary>Further topics that carry readings.</summary>
    public IReadOnlyList<TopicMapping> Mappings => now.Mappings;

    /// <summary>What phones and sensors of the home reach; null is nothing.</summary>
    public HomeNetworkSettings? HomeNetwork => now.HomeNetwork;

    /// <summary>The hub that the home is announced to; null is none.</summary>
    public HubSettings? Hub => now.Hub;

    /// <summary>What the file alone says of notices.</summary>
    public NoticeOptions InFile => SettingsFile.LoadFile(data).Notices;

    /// <summary>Changes them in chamber.json and from now on.</summary>
    /// <exception cref="BadInputException">They would not be good settings, or cannot be written; nothing was changed.</exception>
    public void Change(params IEnumerable<(string Key, JsonNode? Value)> changes)
    {
        lock (gate)
        {
            now = SettingsFile.Change(data, environment, changes);
            seen = MarkOf(data);
        }

        Changed?.Invoke();
    }

    /// <summary>Reads chamber.json again where another process or an editor has changed it. What cannot be used changes nothing.</summary>
    /// <returns>Whether it was changed, and why it cannot be used; null where it can.</returns>
    public (bool IsNew, string? Problem) Follow()
    {
        lock (gate)
        {
            var (before, mark) = (seen, MarkOf(data));
            if (mark == before)
            {
                return (false, null);
            }

            seen = mark;
            if (mark.Length == 0 && before.Length > 0)
            {
                // An editor may empty a file before it writes it.
                return (true, $"{data.Settings} is gone or empty, and was not before.");
            }

            try
            {
                now = SettingsFile.Load(data, environment);
                LastGood.Keep(data, data.Settings);
            }
            catch (BadInputException problem)
            {
                return (true, problem.Message);
            }
        }

        Changed?.Invoke();
        return (true, null);
    }

    private static (DateTime WrittenAt, long Length) MarkOf(DataDirectory data)
    {
        var file = new FileInfo(data.Settings);
        return file.Exists ? (file.LastWriteTimeUtc, file.Length) : default;
    }
}

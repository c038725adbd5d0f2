using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Chamber.Storage;

namespace Chamber.Service.Import;

/// <summary>
/// Up to which line the refusals of a file were counted, so that taking in the same file again, or the same file grown longer,
/// counts none twice. A file is known by its first lines and its probe, not by its name.
/// </summary>
internal sealed class ImportMemory
{
    private const string Setting = "imports.counted";
    private const int FilesMax = 500;
    private const int LineLengthMax = 4096;

    private readonly SettingLedger settings;
    private readonly string key;

    public ImportMemory(SettingLedger settings, string path, CsvLayout layout, string? probe)
    {
        this.settings = settings;
        key = KeyOf(path, layout, probe);
        CountedTo = Entries().Where(entry => entry.Key == key).Select(entry => entry.Line).FirstOrDefault();
    }

    /// <summary>The refusals of this line and those before it stand in the counts already.</summary>
    public long CountedTo { get; private set; }

    /// <summary>Remembers how far it has come. Of more than 500 files the one that was taken in longest ago is forgotten.</summary>
    public void Count(long line)
    {
        if (line <= CountedTo)
        {
            return;
        }

        CountedTo = line;
        var others = Entries().Where(entry => entry.Key != key).TakeLast(FilesMax - 1);
        settings.Set(Setting,
            string.Join(' ', others.Append((Key: key, Line: line))
            .Select(entry => string.Create(CultureInfo.InvariantCulture, $"{entry.Key}:{entry.Line}"))));
    }

    private IEnumerable<(string Key, long Line)> Entries() =>
        from entry in settings.Get(Setting)?.Split(' ') ?? []
        let parts = entry.Split(':')
        where parts.Length == 2 && long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out _)
        select (Key: parts[0], Line: long.Parse(parts[1], CultureInfo.InvariantCulture));

    // The header and the first line of data tell one logger's file from another's.
    private static string KeyOf(string path, CsvLayout layout, string? probe)
    {
        using var reader = new StreamReader(path, Encoding.UTF8);
        var start = new StringBuilder(probe).Append('\n');
        for (var line = 0; line < layout.Skip + 2 && reader.ReadLine() is { } text; line++)
        {
            start.Append(text.AsSpan(0, Math.Min(text.Length, LineLengthMax))).Append('\n');
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(start.ToString())).AsSpan(0, 12));
    }
}

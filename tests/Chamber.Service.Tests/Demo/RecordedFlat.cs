using System.IO.Compression;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Tests.Demo;

/// <summary>The recorded home of demo-data/shared-flat, line by line.</summary>
internal static class RecordedFlat
{
    public static string Folder { get; } = SourceTree.Path("demo-data", "shared-flat");

    /// <summary>What the probes published, in order of time.</summary>
    public static IEnumerable<(Instant At, string Topic, string Payload)> Messages()
    {
        using var reader =
            new StreamReader(new GZipStream(File.OpenRead(Path.Combine(Folder, "messages.tsv.gz")), CompressionMode.Decompress));
        while (reader.ReadLine() is { } line)
        {
            var parts = line.Split('\t');
            yield return (InstantPattern.General.Parse(parts[0]).Value, parts[1], parts[2]);
        }
    }

    /// <summary>What the grower typed, in order of time.</summary>
    public static IEnumerable<(Instant At, string Line)> Typed() =>
        from line in File.ReadLines(Path.Combine(Folder, "typed.tsv"))
        let parts = line.Split('\t')
        select (InstantPattern.General.Parse(parts[0]).Value, parts[1]);
}

using System.Globalization;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core.Crops;
using Chamber.Core.Simulation;
using Chamber.Service.Configuration;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Demo;

/// <summary>
/// Records two weeks of the simulated home so that they can be played back anywhere: what every probe published, and what
/// the grower typed meanwhile. The same seed writes the same lines.
/// </summary>
internal sealed class FlatRecording
{
    /// <summary>One line a message: time, topic and payload, with a tab between.</summary>
    public const string MessagesFile = "messages.tsv.gz";

    /// <summary>One line a command: time and command line, with a tab between.</summary>
    public const string TypedFile = "typed.tsv";

    /// <summary>The settings that make sense of the topics.</summary>
    public const string SettingsFile = "chamber.json";

    private static readonly JsonSerializerOptions Written =
        new(SettingsText.Options) { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault };

    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];

    private readonly FlatStory story;
    private readonly List<(Instant At, string Line)> typed = [];

    public FlatRecording(int seed)
    {
        story = new(Ends, Zone, seed, CropCatalog.Shipped);
        SetUp();
        Sow();
    }

    /// <summary>The last instant of the recording, the same for every seed.</summary>
    public static Instant Ends { get; } = Instant.FromUtc(2026, 2, 20, 15, 0);

    /// <summary>Zone and topics of the recorded home; everything else is as it comes.</summary>
    public static string Home { get; } = JsonSerializer.Serialize(
        new { Home = new HomeSettings { Zone = Zone }, DemoMessages.Mappings },
        Written) + "\n";

    /// <summary>The first instant of the recording.</summary>
    public Instant Begins => story.Begins;

    /// <summary>What each probe says, in order of time. Can be told once.</summary>
    public IEnumerable<(Instant At, DemoMessage Message)> Messages()
    {
        for (var minute = story.Next(); minute.At <= Ends; minute = story.Next())
        {
            typed.AddRange(minute.Looks.Select(pair => (pair.Look.At, $"look {pair.Batch} {pair.Look.Up} --when {Text(pair.Look.At)}")));
            foreach (var said in minute.Said.Where(said => said.At <= Ends).OrderBy(said => said.At))
            {
                yield return (said.At, DemoMessages.Of(said));
            }
        }
    }

    /// <summary>What the grower types, in order of time; complete once all messages were told.</summary>
    public IEnumerable<(Instant At, string Line)> Typed() => typed.OrderBy(line => line.At);

    /// <summary>Writes the three files into a directory.</summary>
    /// <returns>SHA-256 of the messages before they are packed: packing may differ from one system to the next.</returns>
    public string Write(string directory)
    {
        Directory.CreateDirectory(directory);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using (var packed = new GZipStream(File.Create(Path.Combine(directory, MessagesFile)), CompressionLevel.SmallestSize))
        {
            foreach (var (at, message) in Messages())
            {
                var line = Encoding.UTF8.GetBytes($"{Text(at)}\t{message.Topic}\t{message.Payload}\n");
                hash.AppendData(line);
                packed.Write(line);
            }
        }

        File.WriteAllText(Path.Combine(directory, TypedFile), string.Concat(Typed().Select(line => $"{Text(line.At)}\t{line.Line}\n")));
        File.WriteAllText(Path.Combine(directory, SettingsFile), Home);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private void SetUp()
    {
        foreach (var spot in SharedFlat.Spots)
        {
            Type(Begins, $"spot add {spot.Id} --kind {Choice.Word(spot.Kind)} --light {Choice.Word(spot.Light)} --room {spot.Room}");
        }

        foreach (var design in SharedFlat.Probes)
        {
            Type(Begins, $"probe add {design.Probe.Id} --measures {Choice.Word(design.Probe.Measurand)} --spot {design.Spot}");
        }
    }

    private void Sow()
    {
        foreach (var batch in SharedFlat.Batches)
        {
            Type(Ends - batch.Sown,
                $"sow {batch.Crop} --seeds {batch.Seeds} --spot {batch.Spot} --method {Choice.Word(batch.Method)} --name {batch.Id} --when {Text(Ends - batch.Sown)}");
            if (batch.Moved is { } moved)
            {
                Type(Ends - moved.Before, $"move {batch.Id} {moved.Spot} --when {Text(Ends - moved.Before)}");
            }

            if (batch.Ended is { } ended)
            {
                Type(Ends - ended, $"end {batch.Id} --when {Text(Ends - ended)}");
            }
        }
    }

    private void Type(Instant at, FormattableString line) => typed.Add((at, line.ToString(CultureInfo.InvariantCulture)));

    private static string Text(Instant at) => InstantPattern.General.Format(at);
}

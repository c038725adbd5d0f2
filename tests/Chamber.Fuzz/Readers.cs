using System.Text;
using Chamber.Core;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Mqtt.Announcing;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Configuration;
using Chamber.Service.Import;
using Chamber.Storage.Facts;
using Chamber.Storage.Moving;
using Chamber.Testing;
using MQTTnet.Exceptions;
using NodaTime;

namespace Chamber.Fuzz;

/// <summary>Everything that reads what comes from outside, each as a call that says whether it could use an input, or throws its one kind
/// of error.</summary>
internal sealed class Readers : IDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 10, 0);

    private const int PlayedMax = 500;

    // As many days as the longest sample tells of.
    private static readonly Duration PlayedLength = Duration.FromDays(22);

    private readonly TempFolder folder = new(inMemory: true);
    private readonly DataDirectory data;
    private readonly DecodedBatch batch = new();

    public Readers() => data = new(folder.Path);

    /// <summary>The names of the readers; each has its samples in a file of the same name.</summary>
    public static IReadOnlyList<string> Names { get; } = ["chamber.txt", "json.txt", "senml.txt", "number.txt", "time.txt", "words.txt",
        "import.txt", "trace.txt", "trials.txt", "notebook.txt", "layout.txt", "settings.txt", "crops.txt", "experience.txt", "facts.txt",
        "listen.txt", "watch.txt", "access.txt", "publish.hex", "dns.hex"];

    public Func<byte[], bool> Of(string name) => name switch
    {
        "chamber.txt" => Decoder("chamber/shelf/reading", new MessageDecoder(TopicMap.Default)),
        "json.txt" => Decoder("any/shelf", Mapped(new()
        {
            Topic = "any/{probe}", Form = PayloadForm.Json, Temperature = new("/sensors/0/temp", "Cel"),
            Humidity = new("/sensors/0/rh", "1"), Time = new("/time", TimeForm.EpochSeconds),
        })),
        "senml.txt" => Decoder("senml/x", Mapped(new()
        {
            Topic = "senml/#", Form = PayloadForm.Senml,
            Names = new Dictionary<string, SenmlName> { ["urn:dev:ow:{probe}:temp"] = new(Quantity.Temperature) },
        })),
        "number.txt" => Decoder("radio/shelf", Mapped(new()
        {
            Topic = "radio/{probe}", Form = PayloadForm.Number, Quantity = Quantity.Temperature, Unit = "Cel",
        })),
        "time.txt" => bytes => Rfc3339.TryParse(bytes, out _),
        "words.txt" => Text(Words),
        "import.txt" => AsFile(Import),
        "trace.txt" => AsFile(path => TraceFile.Read(path).Samples.Count > 0),
        "trials.txt" => AsFile(path => TrialFile.Read(path).Count > 0),
        "notebook.txt" => AsFile(path => NotebookFile.Read(path).Count > 0),
        "layout.txt" => AsFile(path => CsvLayout.Read(path).Separator is not '\0'),
        "settings.txt" => AsFile(path => SettingsFile.Load(data, []) is not null, data.Settings),
        "crops.txt" => AsFile(path => CropFile.Catalog(data, [], (_, _) => { }) is not null, data.Crops),
        "experience.txt" => Text(text => ExperienceFile.Read(text) is not null),
        "facts.txt" => Text(Fact),
        "listen.txt" => Listen,
        "watch.txt" => Text(Watch),
        "access.txt" => Text(new SignInReader(folder).Read),
        "publish.hex" => Publish,
        "dns.hex" => bytes => DnsWire.Questions(bytes).Count > 0,
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "There is no such reader."),
    };

    /// <summary>Whether a reader may answer so.</summary>
    public static bool IsAnswer(Exception problem) =>
        problem is BadInputException or FormatException or RefusedException or MqttProtocolViolationException;

    public void Dispose() => folder.Dispose();

    /// <summary>What must hold of every answer.</summary>
    /// <exception cref="InvalidOperationException">It does not.</exception>
    internal static void Require(bool holds, string what)
    {
        if (!holds)
        {
            throw new InvalidOperationException(what);
        }
    }

    private static MessageDecoder Mapped(TopicMapping mapping) => new(TopicMap.Create([mapping]));

    // A decoder never throws, whatever a message holds, and says something of each.
    private Func<byte[], bool> Decoder(string topic, MessageDecoder decoder) => bytes =>
    {
        batch.Clear();
        try
        {
            decoder.Decode(new(topic, bytes, Retained: false, Now), batch);
        }
        catch (Exception problem)
        {
            throw new InvalidOperationException("A decoder threw.", problem);
        }

        Require(!batch.IsEmpty, "A decoder said nothing.");
        Require(batch.Readings.All(reading => !reading.IsEmpty), "A decoder gave an empty reading.");
        Require(batch.Readings.All(reading => reading.Temperature is not { } temperature
            || Bounds.ReadCelsius.Holds(temperature.Celsius)), "A decoder gave a temperature beyond its bound.");
        return batch.Readings.Count > 0;
    };

    private static Func<byte[], bool> Text(Func<string, bool> read) => bytes => read(Encoding.UTF8.GetString(bytes));

    private static bool Words(string text)
    {
        Action<string>[] readers = [one => TimeText.Parse(one, DateTimeZone.Utc, Now), one => DurationText.Parse(one),
            one => TemperatureText.Parse(one), one => DayText.Parse(one, Now.InUtc().Date), one => ShareText.Parse(one),
            one => DepthText.Parse(one), one => ShareText.Money(one), one => ShareText.Count(one, Bounds.Seeds)];
        var used = false;
        foreach (var reader in readers)
        {
            try
            {
                reader(text);
                used = true;
            }
            catch (Exception problem) when (IsAnswer(problem))
            {
                Require(problem.Message.Length > 0, "Refused without a word.");
            }
        }

        return used;
    }

    private Func<byte[], bool> AsFile(Func<string, bool> read, string? path = null) => bytes =>
    {
        var file = path ?? folder.File("input");
        File.WriteAllBytes(file, bytes);
        return read(file);
    };

    private static bool Import(string path)
    {
        var used = false;
        using var file = LoggerFile.Open(path, new(), new(DateTimeZone.Utc, Now, new("shelf"), UnitConfirmed: false));
        foreach (var line in file.Lines())
        {
            Require(line.Reading is not null || line.Refusals.Count > 0, "A line was neither read nor refused.");
            used |= line.Reading is not null;
        }

        return used;
    }

    // A long story takes a hundred times as long to play as to read, and shows nothing more.
    private static bool Watch(string text)
    {
        var script = WatchScript.Parse("fuzz", text, catalog: CropCatalog.Shipped.Find);
        var isLong = script.Readings.Count > PlayedMax || script.Steps is [var first, ..] && script.End - first.At > PlayedLength;
        return isLong || script.Run() is not null;
    }

    // What was read is written as it will be read again.
    private static bool Fact(string text)
    {
        var fact = FactJson.Read(text.Split(' ')[0], text[Math.Min(text.Length, text.IndexOf(' ') + 1)..]);
        var written = FactJson.Write(fact);
        Require(FactJson.Write(FactJson.Read(Core.Facts.FactKinds.NameOf(fact), written)) == written, "A fact is another when written.");
        return true;
    }

    private static bool Listen(byte[] bytes)
    {
        var at = Array.IndexOf(bytes, (byte)' ');
        var topic = Encoding.UTF8.GetString(bytes.AsSpan(0, Math.Max(0, at)));
        MappingProposal.Numbers(bytes.AsMemory(at + 1));
        return MappingProposal.Of(topic, bytes.AsMemory(at + 1)) is not null;
    }

    private static bool Publish(byte[] bytes)
    {
        if (!PublishPacket.TryMeasure(bytes, out var isPublish, out var header, out var length)
            || (ulong)header + (ulong)length > (ulong)bytes.Length || !isPublish)
        {
            return false;
        }

        PublishPacket.Parse(bytes[0], bytes.AsMemory(header, length), hasProperties: bytes[0] % 2 == 1);
        return true;
    }
}

using System.Text;
using Chamber.Core;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Climate;
using Chamber.Mqtt.Announcing;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Chamber.Service.Import;
using Chamber.Storage.Facts;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using MQTTnet.Exceptions;
using NodaTime;

namespace Chamber.Service.Tests.Fuzz;

/// <summary>Everything that reads what comes from outside, each as a call that ends or throws its one kind of error.</summary>
internal sealed class Readers : IDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 10, 0);

    private readonly TempFolder folder = new();
    private readonly DataDirectory data;
    private readonly DecodedBatch batch = new();
    private readonly FakeTimeProvider time = new(Now.ToDateTimeOffset());
    private readonly Gatekeeper gate;

    public Readers()
    {
        data = new(folder.Path);
        gate = new(new(folder.File("access.json")), new(time), time);
    }

    /// <summary>The names of the readers; each has its samples in a file of the same name.</summary>
    public static IReadOnlyList<string> Names { get; } = ["chamber.txt", "json.txt", "senml.txt", "number.txt", "time.txt", "words.txt",
        "import.txt", "trace.txt", "trials.txt", "layout.txt", "settings.txt", "crops.txt", "facts.txt", "listen.txt", "watch.txt",
        "access.txt", "mqtt.hex", "dns.hex"];

    public Action<byte[]> Of(string name) => name switch
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
        "time.txt" => bytes => Assert.True(Rfc3339.TryParse(bytes, out var at) || at == default),
        "words.txt" => Text(text => Each(text,
            one => TimeText.Parse(one, DateTimeZone.Utc, Now), one => DurationText.Parse(one), one => TemperatureText.Parse(one),
            one => DayText.Parse(one, Now.InUtc().Date), one => ShareText.Parse(one), one => DepthText.Parse(one),
            one => ShareText.Money(one), one => ShareText.Count(one, Bounds.Seeds))),
        "import.txt" => AsFile(Import),
        "trace.txt" => AsFile(path => TraceFile.Read(path)),
        "trials.txt" => AsFile(path => TrialFile.Read(path)),
        "layout.txt" => AsFile(path => CsvLayout.Read(path)),
        "settings.txt" => AsFile(path => SettingsFile.Load(data, []), data.Settings),
        "crops.txt" => AsFile(path => CropFile.Catalog(data, [], (_, _) => { }), data.Crops),
        "facts.txt" => Text(text => FactJson.Read(text.Split(' ')[0], text[Math.Min(text.Length, text.IndexOf(' ') + 1)..])),
        "listen.txt" => Listen,
        "watch.txt" => Text(text => WatchScript.Parse("fuzz", text)),
        "access.txt" => Text(SignIn),
        "mqtt.hex" => Packet,
        _ => bytes => DnsWire.Questions(bytes),
    };

    /// <summary>Whether a reader may answer so.</summary>
    public static bool IsAnswer(Exception problem) =>
        problem is BadInputException or FormatException or RefusedException or MqttProtocolViolationException;

    public void Dispose() => folder.Dispose();

    private static MessageDecoder Mapped(TopicMapping mapping) => new(TopicMap.Create([mapping]));

    // A decoder never throws, whatever a message holds, and says something of each.
    private Action<byte[]> Decoder(string topic, MessageDecoder decoder) => bytes =>
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

        Assert.False(batch.IsEmpty);
        Assert.All(batch.Readings, reading => Assert.False(reading.IsEmpty));
    };

    private static Action<byte[]> Text(Action<string> read) => bytes => read(Encoding.UTF8.GetString(bytes));

    private static void Each(string text, params Action<string>[] readers)
    {
        foreach (var reader in readers)
        {
            try
            {
                reader(text);
            }
            catch (Exception problem) when (IsAnswer(problem))
            {
                // It says what is wrong.
            }
        }
    }

    private Action<byte[]> AsFile(Action<string> read, string? path = null) => bytes =>
    {
        var file = path ?? folder.File("input");
        File.WriteAllBytes(file, bytes);
        read(file);
    };

    private static void Import(string path)
    {
        using var file = LoggerFile.Open(path, new(), new(DateTimeZone.Utc, Now, new("shelf"), UnitConfirmed: false));
        foreach (var line in file.Lines())
        {
            Assert.True(line.Reading is not null || line.Refusals.Count > 0);
        }
    }

    private static void Listen(byte[] bytes)
    {
        var at = Array.IndexOf(bytes, (byte)' ');
        var topic = Encoding.UTF8.GetString(bytes.AsSpan(0, Math.Max(0, at)));
        MappingProposal.Of(topic, bytes.AsMemory(at + 1));
        MappingProposal.Numbers(bytes.AsMemory(at + 1));
    }

    private void SignIn(string text)
    {
        var words = text.Split(' ');
        var (name, password) = (words.ElementAtOrDefault(1) ?? "", words.ElementAtOrDefault(2) ?? "");
        Assert.False(gate.SignUp(words[0], name, password, text).Ok);
        Assert.False(gate.SignIn(name, password, "192.0.2.7").Ok);
        Assert.Null(gate.GuestOf(text));
        Assert.Null(gate.ProgramOf(text));
    }

    private static void Packet(byte[] bytes)
    {
        if (bytes.Length > 0 && PublishPacket.TryMeasure(bytes, out _, out var header, out var length)
            && (ulong)header + (ulong)length <= (ulong)bytes.Length)
        {
            PublishPacket.Parse(bytes[0], bytes.AsMemory(header, length), hasProperties: false);
            PublishPacket.Parse(bytes[0], bytes.AsMemory(header, length), hasProperties: true);
        }
    }
}

using Chamber.Mqtt.Decoding;
using Chamber.Service.Tests.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>What a probe without a clock sends in one millisecond: nothing of it is taken for the same sent again.</summary>
public sealed class SameMillisecondTests : IDisposable
{
    private readonly DataFile file = new();
    private readonly MessageDecoder decoder = new(TopicMap.Default);

    [Fact]
    public void Two_temperatures_of_one_millisecond_are_both_stored()
    {
        using var store = file.Open();
        var batch = Decode(0, """{"temperature": 24}""", """{"temperature": 60}""");
        Assert.Equal(2, store.Journal.Append(batch.Readings, []).Changed.Count);
        Assert.Equal([24, 60], store.Journal.Read(new("p1"), new Interval(null, null))
            .Select(reading => reading.Temperature!.Value.Celsius));
    }

    [Fact]
    public void Under_a_clock_that_was_never_set_both_count_too()
    {
        var doubting = new MessageDecoder(TopicMap.Default, new() { DoubtsArrival = () => true });
        var batch = doubting.Decode(
            Decoding.Message("chamber/p1/reading", """{"temperature": 24}"""),
            Decoding.Message("chamber/p1/reading", """{"temperature": 60}"""));
        Assert.Equal(2, batch.Readings.Select(reading => reading.MeasuredAt).Distinct().Count());
    }

    [Fact]
    public void Quantities_sent_one_by_one_stay_one_reading()
    {
        using var store = file.Open();
        var batch = Decode(0, """{"temperature": 24}""", """{"humidity": 60}""", """{"temperature": 25, "humidity": 61}""");
        store.Journal.Append(batch.Readings, []);
        Assert.Equal([(24.0, 60.0), (25.0, 61.0)], store.Journal.Read(new("p1"), new Interval(null, null))
            .Select(reading => (reading.Temperature!.Value.Celsius, reading.Humidity!.Value.Percent)));
    }

    [Fact]
    public void A_burst_is_dated_one_by_one_and_what_follows_it_after_it()
    {
        Decode(0, [.. Enumerable.Repeat("""{"temperature": 24}""", 10)]);
        Assert.Equal(10, Ahead(Decode(4, """{"temperature": 25}""")));
        Assert.Equal(20, Ahead(Decode(20, """{"temperature": 26}""")));
    }

    [Fact]
    public void A_flood_is_dated_one_second_ahead_at_most()
    {
        var flood = Decode(0, [.. Enumerable.Repeat("""{"temperature": 24}""", 3000)]);
        Assert.Equal(Decoding.Now + Duration.FromSeconds(1), flood.Readings.Max(reading => reading.MeasuredAt));
    }

    [Fact]
    public void A_time_of_its_own_is_left_as_it_is()
    {
        const string said = """{"temperature": 24, "at": "2026-11-25T10:00:00Z"}""";
        Assert.Single(Decode(0, said, said).Readings.Select(reading => reading.MeasuredAt).Distinct());
    }

    public void Dispose() => file.Dispose();

    private static double Ahead(DecodedBatch batch) => (Assert.Single(batch.Readings).MeasuredAt - Decoding.Now).TotalMilliseconds;

    private DecodedBatch Decode(int milliseconds, params string[] payloads) => decoder.Decode([.. payloads.Select(payload =>
        Decoding.Message("chamber/p1/reading", payload, receivedAt: Decoding.Now + Duration.FromMilliseconds(milliseconds)))]);
}

using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>Readings, times and counts are invented.</summary>
public sealed class JournalTests : IDisposable
{
    private static readonly Interval Always = new(null, null);
    private static readonly ProbeId Shelf = new("shelf");

    private readonly DataFile file = new();

    [Fact]
    public void Readings_come_back_in_order_of_time_whatever_the_order_of_arrival()
    {
        using var store = file.Open();
        store.Journal.Append([DataFile.At(3), DataFile.At(1), DataFile.At(2, probe: "sill"), DataFile.At(2)], []);

        Assert.Equal([DataFile.At(1), DataFile.At(2), DataFile.At(3)], store.Journal.Read(Shelf, Always));
    }

    [Fact]
    public void A_duplicate_is_dropped_and_a_partial_one_fills_in_what_was_absent()
    {
        using var store = file.Open();
        store.Journal.Append([DataFile.At(1, celsius: 21.5)], []);
        var result = store.Journal.Append([DataFile.At(1, celsius: 30), DataFile.At(1, celsius: null, humidity: 55), DataFile.At(2)], []);

        var whole = DataFile.At(1, celsius: 21.5, humidity: 55);
        Assert.Equal((1, 1, 1), (result.Inserted, result.Filled, result.Duplicates));
        Assert.Equal([whole, DataFile.At(2)], result.Changed);
        Assert.Equal([whole, DataFile.At(2)], store.Journal.Read(Shelf, Always));
    }

    // A page that something else has changed by one bit: SQLite reads on, and gives the row where it is.
    [Fact]
    public void A_flipped_bit_that_puts_a_reading_out_of_order_is_damage()
    {
        using (var store = file.Open())
        {
            store.Journal.Append(DataFile.Minutes(0, 100), []);
        }

        Flip(DataFile.At(50).MeasuredAt.ToUnixTimeMilliseconds());
        using var damaged = file.Open();

        Assert.True(Assert.Throws<StoreException>(() => damaged.Journal.Read(Shelf, Always).Count()).IsDamage);
        Assert.True(Assert.Throws<StoreException>(() => damaged.Journal.ReadTemperatures(Shelf, Always).Count()).IsDamage);
    }

    // A time lies in its row as six bytes, the highest first; the bit is one of about 70 minutes.
    private void Flip(long at)
    {
        Span<byte> bytes = stackalloc byte[8];
        System.Buffers.Binary.BinaryPrimitives.WriteInt64BigEndian(bytes, at);
        var content = File.ReadAllBytes(file.Path);
        var place = content.AsSpan().IndexOf(bytes[2..]);
        Assert.True(place > 0);
        content[place + 3] ^= 0x40;
        File.WriteAllBytes(file.Path, content);
    }

    [Fact]
    public void An_interval_takes_its_start_and_leaves_its_end()
    {
        using var store = file.Open();
        store.Journal.Append(DataFile.Minutes(0, 10), []);
        var interval = new Interval(DataFile.At(2).MeasuredAt, DataFile.At(5).MeasuredAt);

        Assert.Equal([2, 3, 4], store.Journal.ReadTemperatures(Shelf, interval)
            .Select(sample => (sample.At - DataFile.Start).TotalMinutes));
    }

    [Fact]
    public void The_newest_of_each_quantity_has_its_own_time()
    {
        using var store = file.Open();
        store.Journal.Append([DataFile.At(1, 21, humidity: 50), DataFile.At(2, 22), DataFile.At(3, null, humidity: 51)], []);

        var latest = Assert.Single(store.Journal.Latest(Instant.MaxValue));
        Assert.Equal((22, DataFile.At(2).MeasuredAt), (latest.Temperature?.Value.Celsius, latest.Temperature?.At));
        Assert.Equal((51, DataFile.At(3).MeasuredAt), (latest.Humidity?.Value.Percent, latest.Humidity?.At));
        Assert.Null(latest.Battery);
    }

    [Fact]
    public void What_a_clock_dated_ahead_is_not_the_newest_until_its_time_has_come()
    {
        using var store = file.Open();
        store.Journal.Append([DataFile.At(1, 21), DataFile.At(10, 22), DataFile.At(2 * 1440, 60)], []);
        double? At(double minute) => store.Journal.Latest(Shelf, DataFile.At(minute).MeasuredAt)?.Temperature?.Value.Celsius;

        Assert.Equal(22, At(20));

        // Clocks differ by minutes.
        Assert.Equal(22, At(5));
        Assert.Equal(60, At(2 * 1440));
    }

    [Fact]
    public void Another_process_sees_what_was_written_and_where()
    {
        using var service = file.Open();
        using var other = file.Open();
        service.Journal.Append(DataFile.Minutes(0, 10), []);
        var mark = service.Journal.ChangesSince(JournalMark.Beginning).Mark;
        var version = service.DataVersion;

        other.Journal.Append([DataFile.At(2.5), DataFile.At(12)], []);

        Assert.NotEqual(version, service.DataVersion);
        var changes = service.Journal.ChangesSince(mark);
        Assert.Equal(
            [DataFile.At(12), DataFile.At(2.5)],
            changes.Stretches.SelectMany(stretch => service.Journal.Read(stretch.Probe, stretch.When)));
        Assert.Empty(service.Journal.ChangesSince(changes.Mark).Stretches);
    }

    [Fact]
    public void Refusals_are_kept_to_their_bound_and_counted_for_ever()
    {
        using var store = file.Open(new() { RefusalsMax = 5 });
        for (var i = 0; i < 3; i++)
        {
            store.Journal.Append([], [.. Enumerable.Range(0, 7).Select(number => Refused(i * 7 + number))]);
        }

        Assert.Equal(["20", "19", "18", "17", "16"], store.Journal.Refusals().Select(refusal => refusal.Raw));
        var count = Assert.Single(store.Journal.RefusalCounts());
        Assert.Equal((Shelf, RefusalReason.Sentinel, 21), (count.Probe, count.Reason, count.Count));
    }

    [Fact]
    public void Probes_beyond_the_bound_are_refused_and_counted()
    {
        using var store = file.Open(new() { ProbesMax = 1 });
        var result = store.Journal.Append([DataFile.At(1), DataFile.At(1, probe: "flood-1"), DataFile.At(1, probe: "flood-2")], []);

        Assert.Equal((1, 2), (result.Inserted, result.Refused));
        Assert.Equal(2, Assert.Single(store.Journal.RefusalCounts()).Count);
    }

    [Fact]
    public void Values_of_unknown_age_are_kept_apart_from_readings()
    {
        using var store = file.Open();
        store.Journal.Append([], [], [DataFile.At(1, 19)]);
        store.Journal.Append([], [], [DataFile.At(2, null, humidity: 40)]);

        var known = Assert.Single(store.Journal.LastKnown());
        Assert.Equal((19, 40), (known.Temperature?.Celsius, known.Humidity?.Percent));
        Assert.Empty(store.Journal.Read(Shelf, Always));
    }

    public void Dispose() => file.Dispose();

    private static Refusal Refused(int number) =>
        new(DataFile.Start, "chamber/shelf/reading", Shelf, "temperature", RefusalReason.Sentinel, $"{number}", "Look at the sensor.");
}

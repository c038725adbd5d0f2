using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

public sealed class RollUpTests : IDisposable
{
    private const int Day = 24 * 60;

    // Lettuce-like and tomato-like corners lie inside the range of the simulated spots, so that the error shows.
    private static readonly WarmthLimits Limits = new(
        new(Temperature.FromCelsius(8), Temperature.FromCelsius(22), Temperature.FromCelsius(26), Temperature.FromCelsius(34)),
        Temperature.FromCelsius(15),
        Temperature.FromCelsius(30));

    private static readonly Interval Always = new(null, null);
    private static readonly Instant Far = DataFile.Start + Duration.FromDays(1000);
    private static readonly ProbeId Shelf = new("shelf");

    private readonly DataFile file = new();
    private readonly ChamberStore store;

    public RollUpTests() => store = file.Open(new() { Readings = Durability.ProcessEnd });

    public static TheoryData<string, Func<int, double>> Spots => new()
    {
        { "steady cupboard", minute => 24 + 0.3 * Math.Sin(minute / 200.0) },
        { "sill by day and night", minute => 16 + 8 * Math.Sin(2 * Math.PI * minute / Day) },
        { "mat with a thermostat", minute => 27 + 1.5 * Math.Sin(2 * Math.PI * minute / 25) },
        { "mat that swings wildly", minute => 27 + 6 * Math.Sin(2 * Math.PI * minute / 12) },
    };

    [Theory]
    [MemberData(nameof(Spots), DisableDiscoveryEnumeration = true)]
    public void Warm_hours_of_old_readings_stay_right_to_a_quarter_of_a_percent(string spot, Func<int, double> celsius)
    {
        var noise = new Random(7);
        var readings = Enumerable.Range(0, 14 * Day)
            .Select(minute => DataFile.At(minute, Math.Round(celsius(minute) + noise.NextDouble() * 0.2 - 0.1, 2))).ToList();
        store.Journal.Append(readings, []);
        var before = Warmth();

        var result = All(Far);
        var after = Warmth();

        TestContext.Current.TestOutputHelper?.WriteLine(
            $"{spot}: {readings.Count} readings -> {store.Journal.Size()}, warm-hours {before.Measured.CelsiusHours:F3} -> "
            + $"{after.Measured.CelsiusHours:F3}, hours above {before.HoursAbove:F2} -> {after.HoursAbove:F2}");
        Assert.Equal(readings.Count, result + store.Journal.Size().Readings);
        Assert.Equal(before.MeasuredTime, after.MeasuredTime);
        Assert.InRange(after.Measured.CelsiusHours / before.Measured.CelsiusHours, 0.9975, 1.0025);
    }

    [Fact]
    public void A_quiet_spot_shrinks_to_a_fifteenth()
    {
        store.Journal.Append(DataFile.Minutes(0, 7 * Day)
            .Select(reading => reading with { Temperature = Temperature.FromCelsius(21) }).ToList(), []);
        All(Far);

        var (readings, rolled) = store.Journal.Size();
        Assert.Equal((15, 7 * 96 - 1), (readings, rolled));
    }

    [Fact]
    public void Younger_readings_and_the_newest_quarter_of_an_hour_stay_as_they_are()
    {
        store.Journal.Append(DataFile.Minutes(0, 120), []);
        All(DataFile.At(60).MeasuredAt);

        Assert.Equal(DataFile.Minutes(60, 60), store.Journal.Read(Shelf, new(DataFile.At(60).MeasuredAt, null)));
        All(Far);
        Assert.Equal(DataFile.At(119).MeasuredAt, Assert.Single(store.Journal.Latest(Instant.MaxValue)).MeasuredAt);
    }

    [Fact]
    public void A_level_stretch_has_points_often_enough_for_a_short_gap_bound()
    {
        store.Journal.Append(DataFile.Minutes(0, Day), []);
        All(Far);

        var times = store.Journal.ReadTemperatures(Shelf, Always).Select(sample => sample.At).ToList();
        Assert.InRange(times.Zip(times.Skip(1), (left, right) => right - left).Max(), Duration.FromMinutes(1), Duration.FromMinutes(5));
    }

    [Fact]
    public void Sparse_readings_stay_as_they_are()
    {
        var sparse = Enumerable.Range(0, 500).Select(number => DataFile.At(number * 6)).ToList();
        store.Journal.Append(sparse, []);
        All(Far);

        Assert.Equal(sparse, store.Journal.Read(Shelf, Always));
    }

    [Fact]
    public void Passes_of_any_size_come_to_the_same_and_a_second_round_does_nothing()
    {
        using var other = ChamberStore.Open(file.Beside("other.db"), new() { Readings = Durability.ProcessEnd });
        foreach (var probe in (string[])["shelf", "sill"])
        {
            store.Journal.Append(DataFile.Minutes(3, 3 * Day, probe), []);
            other.Journal.Append(DataFile.Minutes(3, 3 * Day, probe), []);
        }

        All(Far);
        while (other.Journal.RollUp(Far, readingsMax: 100).More)
        {
        }

        Assert.Equal(store.Journal.Read(Shelf, Always), other.Journal.Read(Shelf, Always));
        Assert.Equal(new RollUpResult(0, 0, 0, false), store.Journal.RollUp(Far));
    }

    [Fact]
    public void A_log_that_is_imported_again_after_the_roll_up_doubles_nothing()
    {
        var log = DataFile.Minutes(0, 2 * Day);
        store.Journal.Append(log, []);
        All(Far);
        var (size, before) = (store.Journal.Size(), store.Journal.Read(Shelf, Always).ToList());

        Assert.Equal(log.Count, store.Journal.Append(log, []).Duplicates);
        Assert.Equal(size, store.Journal.Size());
        Assert.Equal(before, store.Journal.Read(Shelf, Always));
    }

    [Fact]
    public void Old_readings_that_come_late_are_rolled_up_too()
    {
        store.Journal.Append(DataFile.Minutes(2 * Day, 2 * Day), []);
        All(Far);
        store.Journal.Append(DataFile.Minutes(0, 2 * Day), []);
        All(Far);

        Assert.InRange(store.Journal.Size().Readings, 0, 30);
    }

    public void Dispose()
    {
        store.Dispose();
        file.Dispose();
    }

    private long All(Instant olderThan)
    {
        var removed = 0L;
        RollUpResult result;
        do
        {
            result = store.Journal.RollUp(olderThan);
            removed += result.Removed;
        }
        while (result.More);
        return removed;
    }

    private WarmthTally Warmth()
    {
        var tally = new WarmthTally(Limits, Probe.DefaultMaxGap);
        foreach (var sample in store.Journal.ReadTemperatures(Shelf, Always))
        {
            tally.Add(sample.At, sample.Temperature);
        }

        return tally;
    }
}

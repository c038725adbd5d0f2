using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>
/// Five simulated years of a steady cupboard and a sill by day and night, taken in month by month and summed up as the service
/// does it. The same with twenty probes and a reading a minute is measured by the benchmark of years.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class FiveYearsTests : IDisposable
{
    private const int Years = 5;
    private const int DaysOfYear = 365;
    private const int MinutesApart = 3;
    private static readonly Duration Kept = Duration.FromDays(400);
    private static readonly ProbeId Cupboard = new("cupboard");
    private static readonly ProbeId Sill = new("sill");

    // Both spots cross corners of the response in the month that is compared.
    private static readonly WarmthLimits Limits = new(
        new(Temperature.FromCelsius(8), Temperature.FromCelsius(22), Temperature.FromCelsius(26), Temperature.FromCelsius(34)),
        Temperature.FromCelsius(15),
        Temperature.FromCelsius(30));

    private readonly DataFile file = new();

    [Fact]
    public void The_file_grows_little_after_its_first_years_and_old_sums_stay_right()
    {
        var sizes = new List<long>();
        using var store = file.Open(new() { Readings = Durability.ProcessEnd });
        for (var day = 0; day < Years * DaysOfYear; day++)
        {
            store.Journal.Append([.. DayOf(day, Cupboard), .. DayOf(day, Sill)], []);
            if (day % 30 == 29)
            {
                while (store.Journal.RollUp(At(day + 1, 0) - Kept).More)
                {
                }
            }

            if (day % DaysOfYear == DaysOfYear - 1)
            {
                var (readings, rolled) = store.Journal.Size();
                sizes.Add(readings + rolled);
                TestContext.Current.TestOutputHelper?.WriteLine($"year {sizes.Count}: {readings} readings, {rolled} level stretches");
            }
        }

        var perDay = 24 * 60 / MinutesApart;
        Assert.InRange(store.Journal.Size().Readings, 2 * 400 * perDay, 2 * 431 * perDay);
        Assert.All(sizes.Skip(2).Zip(sizes.Skip(1), (later, earlier) => later - earlier),
            growth => Assert.InRange(growth, 1, sizes[0] / 3));
        AssertWarmth(store, Cupboard);
        AssertWarmth(store, Sill);
        Assert.Equal([.. DayOf((Years * DaysOfYear) - 1, Sill)], store.Journal.Read(Sill, new(At((Years * DaysOfYear) - 1, 0), null)));
    }

    public void Dispose() => file.Dispose();

    private static void AssertWarmth(ChamberStore store, ProbeId probe)
    {
        var measured = Warmth(Enumerable.Range(0, 30).SelectMany(day => DayOf(day, probe))
            .Select(reading => new TemperatureSample(reading.MeasuredAt, reading.Temperature!.Value)));
        var kept = Warmth(store.Journal.ReadTemperatures(probe, new(At(0, 0), At(30, 0))));
        Assert.InRange(kept / measured, 0.9975, 1.0025);
    }

    private static double Warmth(IEnumerable<TemperatureSample> samples)
    {
        var tally = new WarmthTally(Limits, Probe.DefaultMaxGap);
        foreach (var sample in samples)
        {
            tally.Add(sample.At, sample.Temperature);
        }

        return tally.Measured.CelsiusHours;
    }

    private static IEnumerable<Reading> DayOf(int day, ProbeId probe) =>
        from minute in Enumerable.Range(0, 24 * 60 / MinutesApart).Select(number => number * MinutesApart)
        let at = At(day, minute)
        let celsius = Math.Round(Season(day) + (probe == Cupboard ? Steady(minute) : ByDay(minute)), 2)
        select new Reading(probe, at, at, Temperature.FromCelsius(celsius), RelativeHumidity.FromPercent(45));

    private static double Season(int day) => 2 * Math.Sin(day * Math.Tau / DaysOfYear);

    private static double Steady(int minute) => 24 + (0.3 * Math.Sin(minute * Math.Tau / 1440));

    private static double ByDay(int minute) => 18 + (5 * Math.Sin(minute * Math.Tau / 1440));

    private static Instant At(int day, int minute) => DataFile.Start + Duration.FromDays(day) + Duration.FromMinutes(minute);
}

using Chamber.Core.Climate;
using Chamber.Storage;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

public sealed class JournalLaws
{
    private static readonly NodaTime.Interval Always = new(null, null);

    /// <summary>Readings of two probes in a few milliseconds, so that duplicates and partial ones are common; with hard numbers among the
    /// values.</summary>
    private static readonly Arbitrary<Reading[]> Readings = Arb.From(
        from readings in Gen.ListOf(
            from probe in Gen.Elements("shelf", "sill")
            from at in Gen.Choose(5000, 5040)
            from received in Gen.Choose(-5000, 5000)
            from clock in Gen.Elements(ClockSource.Payload, ClockSource.Arrival)
            from temperature in Maybe(-40, 80)
            from humidity in Maybe(0, 100)
            from moisture in Maybe(-1e6, 1e6)
            from battery in Maybe(0, 100)
            select new Reading(
                new(probe),
                Instant.FromUnixTimeMilliseconds(at),
                Instant.FromUnixTimeMilliseconds(at + received),
                temperature is { } celsius ? Temperature.FromCelsius(celsius) : null,
                humidity is { } percent ? RelativeHumidity.FromPercent(percent) : null,
                moisture,
                battery,
                clock))
        select readings.ToArray());

    [Property(MaxTest = 60)]
    public Property Every_reading_comes_back_exactly_as_it_was_first_said() => Prop.ForAll(Readings, readings =>
    {
        using var file = new DataFile();
        using var store = file.Open(new() { Readings = Durability.ProcessEnd });
        var result = store.Journal.Append(readings, []);

        Assert.Equal(readings.Length, result.Inserted + result.Filled + result.Duplicates);
        Assert.Equal(Expected(readings), Stored(store));
        Assert.Equal(Expected(readings), result.Changed.GroupBy(reading => (reading.Probe, reading.MeasuredAt))
            .Select(group => group.Last()).OrderBy(Key));
    });

    [Property(MaxTest = 40)]
    public Property One_append_or_many_and_a_repetition_come_to_the_same() =>
        Prop.ForAll(Readings, Gen.Choose(1, 10).ToArbitrary(), (readings, size) =>
    {
        using var file = new DataFile();
        using var store = file.Open(new() { Readings = Durability.ProcessEnd });
        foreach (var chunk in readings.Chunk(size))
        {
            store.Journal.Append(chunk, []);
        }

        var again = store.Journal.Append(readings, []);
        Assert.Equal((0, 0, 0), (again.Inserted, again.Filled, again.Changed.Count));
        Assert.Equal(Expected(readings), Stored(store));
    });

    [Property(MaxTest = 40)]
    public Property Changes_since_a_mark_are_exactly_what_was_appended_since() => Prop.ForAll(Readings, Readings, (first, second) =>
    {
        using var file = new DataFile();
        using var store = file.Open(new() { Readings = Durability.ProcessEnd });
        store.Journal.Append(first, []);
        var mark = store.Journal.ChangesSince(JournalMark.Beginning).Mark;
        var changed = store.Journal.Append(second, []).Changed.Select(Key).ToHashSet();

        var seen = store.Journal.ChangesSince(mark).Stretches.SelectMany(stretch => store.Journal.Read(stretch.Probe, stretch.When))
            .Select(Key).ToHashSet();
        Assert.Superset(changed, seen);
    });

    private static Gen<double?> Maybe(double low, double high) => Gen.OneOf(
        Gen.Constant((double?)null),
        Gen.Choose((int)(low * 10), (int)(high * 10)).Select(tenths => (double?)(tenths / 10.0)),
        Gen.Choose(0, int.MaxValue).Select(part => (double?)(low + (high - low) * ((double)part / int.MaxValue))),
        Gen.Elements<double?>(low, high, Math.Min(high, double.Epsilon), 1 / 3.0, Math.Min(high, Math.Max(low, -0.0))));

    private static (string Probe, Instant At) Key(Reading reading) => (reading.Probe.Text, reading.MeasuredAt);

    /// <summary>The rule of identity, said once more in the plainest way.</summary>
    private static IEnumerable<Reading> Expected(IEnumerable<Reading> readings) => readings
        .Where(reading => !reading.IsEmpty)
        .GroupBy(Key)
        .OrderBy(group => group.Key)
        .Select(group => group.Aggregate((whole, next) => whole with
        {
            Temperature = whole.Temperature ?? next.Temperature,
            Humidity = whole.Humidity ?? next.Humidity,
            Moisture = whole.Moisture ?? next.Moisture,
            Battery = whole.Battery ?? next.Battery,
        }));

    private static IEnumerable<Reading> Stored(ChamberStore store) =>
        store.Journal.Probes().SelectMany(probe => store.Journal.Read(probe, Always)).OrderBy(Key);
}

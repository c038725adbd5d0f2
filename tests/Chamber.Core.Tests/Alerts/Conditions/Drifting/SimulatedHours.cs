using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Conditions.Drifting;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using Chamber.Core.Simulation;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts.Conditions.Drifting;

/// <summary>Hourly means of every probe of the simulated flat over two years in which nothing is moved or broken, as probes of 0.05 K noise
/// and tenths of a degree tell them every ten minutes.</summary>
internal sealed class SimulatedHours
{
    /// <summary>Two years.</summary>
    public const int Count = 730 * 24;

    private static readonly Instant Start = Instant.FromUtc(2025, 12, 31, 23, 0);

    private readonly double[][] celsius;

    public SimulatedHours(int seed)
    {
        var home = new SimulatedHome(Start, OrdinaryYears.Zone, seed);
        var random = new Random(seed);
        celsius = new double[Count][];
        for (var hour = 0; hour < Count; hour++)
        {
            var means = celsius[hour] = new double[Probes.Count];
            for (var minute = 1; minute <= 60; minute++)
            {
                home.Step();
                for (var probe = 0; minute % 10 == 0 && probe < Probes.Count; probe++)
                {
                    means[probe] += Math.Round(True(home, Probes[probe]) + 0.05 * Seeded.Normal(random), 1) / 6;
                }
            }
        }
    }

    /// <summary>Those of one spot side by side, as the fold wants them.</summary>
    public static IReadOnlyList<SimulatedProbeDesign> Probes { get; } =
        [.. SharedFlat.Probes.OrderBy(design => design.Spot.Text, StringComparer.Ordinal)
            .ThenBy(design => design.Probe.Id.Text, StringComparer.Ordinal)];

    public static IReadOnlyList<SpotId> Spots { get; } = [.. Probes.Select(design => design.Spot).Distinct()];

    /// <summary>The end of an hour.</summary>
    public static Moment EndOf(int hour) => Moment.Of(Start + Duration.FromHours(hour + 1));

    /// <summary>Folds an hour.</summary>
    /// <param name="fold">The fold.</param>
    /// <param name="hour">From 0.</param>
    /// <param name="there">Which probes there are.</param>
    /// <param name="moved">Which of them say something else than they would; null for none.</param>
    /// <param name="kelvins">By how much.</param>
    public void Fold(DriftFold fold, int hour, Predicate<SimulatedProbeDesign> there, Predicate<SimulatedProbeDesign>? moved = null,
        double kelvins = 0)
    {
        var end = EndOf(hour);
        var entries = new List<(SpotId, HourEntry)>(Probes.Count);
        for (var probe = 0; probe < Probes.Count; probe++)
        {
            var design = Probes[probe];
            if (there(design))
            {
                entries.Add(
                    (design.Spot, new(end, end, design.Probe.Id, HourEntryKind.Mean,
                    celsius[hour][probe] + (moved?.Invoke(design) == true ? kelvins : 0))));
            }
        }

        fold.Fold(end, (end - TimeSpan.FromHours(1)).HourOfDay(OrdinaryYears.Zone), entries);
    }

    private static double True(SimulatedHome home, SimulatedProbeDesign design)
    {
        var climate = home[design.Spot];
        return (design.Probe.Measurand == Measurand.Air ? climate.Air : climate.Media).Celsius + design.OffsetKelvins;
    }
}

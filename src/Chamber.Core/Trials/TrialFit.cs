using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Trials;

/// <summary>A number of a fitted profile with its 95 % interval by profile likelihood.</summary>
/// <param name="Low">Low end; null when these temperatures set none.</param>
/// <param name="Mid">The most likely value; null when these temperatures cannot tell it.</param>
/// <param name="High">High end; null when these temperatures set none.</param>
public readonly record struct TrialEstimate(double? Low, double? Mid, double? High);

/// <summary>
/// The germination profile that trials at steady temperatures make most likely, all temperatures at once: at temperature T the share
/// G·Φ((ln(24 E(T) t) - ln θ50)/σ) is up after t days, E the effective warmth of <see cref="CardinalTemperatures"/>. Counts are
/// interval-censored; seeds that were not up at the end may have been late or dead.
/// </summary>
public sealed record TrialFit
{
    private const int ImprovementsMax = 3;

    /// <summary>Tb, °C.</summary>
    public required TrialEstimate Base { get; init; }

    /// <summary>Where the fastest temperatures begin, °C.</summary>
    public required TrialEstimate OptimumLow { get; init; }

    /// <summary>Where they end, °C.</summary>
    public required TrialEstimate OptimumHigh { get; init; }

    /// <summary>Tc, °C.</summary>
    public required TrialEstimate Ceiling { get; init; }

    /// <summary>θ50, °C·h.</summary>
    public required TrialEstimate HalfWarmHours { get; init; }

    /// <summary>σ of the natural logarithm of warm-hours.</summary>
    public required TrialEstimate Spread { get; init; }

    /// <summary>G: the share that comes up at all, 0 to 1.</summary>
    public required TrialEstimate GerminableShare { get; init; }

    /// <summary>That shares differ by temperature, so that <see cref="GerminableShare"/> holds for none; null when one share
    /// fits.</summary>
    public required TrialShareDifference? ShareDifference { get; init; }

    /// <summary>That the spread changes with temperature, so that <see cref="Spread"/> holds for none; null when one spread
    /// serves.</summary>
    public TrialSpreadChange? SpreadChange { get; init; }

    /// <summary>How well the law holds, and by what the intervals are widened for it.</summary>
    public required TrialGoodness Goodness { get; init; }

    /// <summary>Each temperature by itself, by the law, and by the others alone; coolest first.</summary>
    public required IReadOnlyList<TrialCurve> Curves { get; init; }

    /// <summary>Whether forecasts go by the law or by a smooth curve; null where too few temperatures tell, and the law
    /// serves.</summary>
    public required TrialChoice? Choice { get; init; }

    /// <summary>What these trials cannot tell, by the names above in camelCase, each with the reason and the trial that would
    /// tell.</summary>
    public required IReadOnlyList<TrialDoubt> Doubts { get; init; }

    /// <summary>Temperatures, coolest first.</summary>
    public required IReadOnlyList<TrialTally> Tallies { get; init; }

    /// <summary>From the coldest to the warmest trial in which seed came up.</summary>
    public TemperatureBand Tried => new(Tallies.First(tally => tally.Up > 0).Temperature, Tallies.Last(tally => tally.Up > 0).Temperature);

    /// <summary>ln of the likelihood at its best.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>A whole set of cardinal temperatures as likely as any; where one cannot be told, an assumption stands in for it.</summary>
    public required CardinalTemperatures Cardinals { get; init; }

    /// <summary>θ50 that belongs to <see cref="Cardinals"/>.</summary>
    public required WarmHours Half { get; init; }

    /// <summary>σ that belongs to them.</summary>
    public required double SpreadUsed { get; init; }

    /// <summary>G that belongs to them, 0 to 1.</summary>
    public required double ShareUsed { get; init; }

    /// <summary>Fits all trials.</summary>
    /// <exception cref="FormatException">No seed came up anywhere, or a count cannot be.</exception>
    public static TrialFit Of(IReadOnlyList<TrialCount> counts)
    {
        if (counts.Any(count => count.Count < 0 || !(count.FromDays >= 0) || count.ToDays <= count.FromDays))
        {
            throw new FormatException("A count is a whole number of 0 or more, between a day and a later one.");
        }

        var trials = TrialSeeds.ByTemperature(counts);
        if (trials.All(trial => trial.Up == 0))
        {
            throw new FormatException("No seed came up in any trial, so there is nothing to fit.");
        }

        var search = new TrialSearch(trials);
        var best = search.Best();
        var curves = Array.ConvertAll(trials, OwnCurve.Of);
        var goodness = TrialGoodness.Of(curves, counts, best.Log, TrialSpreads.Change(trials, best));
        var ends = new TrialEnds[TrialPoint.Numbers];
        for (var round = 0; round < ImprovementsMax; round++)
        {
            var profiles = Enum.GetValues<TrialNumber>()
                .Select(number => new TrialProfile(search, best, number, goodness.Dispersion)).ToArray();
            ends = Array.ConvertAll(profiles, profile => profile.Ends());
            if (profiles.Max(profile => profile.Better?.Log) is not { } better)
            {
                break;
            }

            best = profiles.Select(profile => profile.Better).First(found => found?.Log == better)!.Value;
        }

        var spreads = TrialSpreads.Change(trials, best);
        return TrialReading.Of(trials, best, ends, curves, TrialGoodness.Of(curves, counts, best.Log, spreads)) with
        {
            SpreadChange = spreads,
        };
    }
}

/// <summary>A number that trials cannot tell.</summary>
/// <param name="What">Its name: base, optimumLow, optimumHigh, ceiling, halfWarmHours, spread.</param>
/// <param name="Why">Why, and which trial would tell.</param>
public sealed record TrialDoubt(string What, string Why);

/// <summary>The seeds of the trials at one temperature.</summary>
public sealed record TrialTally(Temperature Temperature, int Seeds, int Up);

using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Seeds;

/// <summary>What a germination test at home is to tell.</summary>
public enum TestQuestion
{
    /// <summary>Is any of it alive?</summary>
    AliveOrDead,

    /// <summary>About how much comes up?</summary>
    Rate,

    /// <summary>Is it good enough to grow seed, or a whole bed, from?</summary>
    WorthGrowingFrom,
}

/// <summary>A germination test at home: how many seeds, how to run it, when to call it.</summary>
/// <param name="Seeds">How many seeds to lay out.</param>
/// <param name="Within">How near, to either side, the 95 % interval comes when eight in ten come up.</param>
/// <param name="Temperatures">°C at the seed, as the laboratory rule prints them; null without one.</param>
/// <param name="FirstCountDay">Day of the first count; null without a rule.</param>
/// <param name="FinalCountDay">Day of the last count: call it then.</param>
/// <param name="Advice">How to lay it out, a sentence each.</param>
public sealed record HomeTest(
    int Seeds,
    double Within,
    string? Temperatures,
    int? FirstCountDay,
    int FinalCountDay,
    IReadOnlyList<string> Advice)
{
    /// <summary>Used where the rules list no test of the crop. Common practice, no source.</summary>
    private const int FinalCountDayUnknown = 21;

    /// <summary>This long without one more, past twice the expected time, and nothing more is coming. Common practice, no source.</summary>
    private const double QuietDays = 5;

    /// <summary>
    /// Sizes as extension services give them: 10 for yes or no, 20 for a rate, 50 for seed worth growing from
    /// (Iowa State Univ. Extension, "Life Expectancy of Vegetable Seeds", 1999; Univ. of Minnesota Morris, tip 618).
    /// Laboratories take 400 (7 CFR 201.54). Days are those of 7 CFR 201.58.
    /// </summary>
    /// <param name="crop">The crop.</param>
    /// <param name="question">What the test is to tell.</param>
    /// <param name="left">How many seeds are left.</param>
    /// <param name="isTreated">Whether the lot is treated: then it is laid out in mix, with gloves, and never on a towel.</param>
    public static HomeTest Plan(Crop crop, TestQuestion question, int left, bool isTreated = false)
    {
        ArgumentNullException.ThrowIfNull(crop);
        var wanted = question switch
        {
            TestQuestion.AliveOrDead => 10,
            TestQuestion.Rate => 20,
            _ => 50,
        };
        var seeds = Math.Clamp(wanted, 1, Math.Max(1, left / 2));
        var lab = crop.Guide?.LabTest;
        var interval = BinomialInterval.Wilson(new((int)Math.Round(0.8 * seeds), seeds));
        return new(
            seeds,
            interval.Width() / 2,
            lab?.Temperatures,
            lab?.FirstCountDay,
            lab?.FinalCountDay ?? Math.Max(FinalCountDayUnknown, crop.Guide?.TypicalDays?.High ?? 0),
            [.. Advise(crop, seeds < wanted, isTreated)]);
    }

    /// <summary>The result of a test: the share with its interval, and what the law asks of seed on sale.</summary>
    public static ShareInterval Result(SeedCount count) => BinomialInterval.Wilson(count);

    /// <summary>Whether a test may be called: all are up, its last day has come, or it has been quiet for long past the expected
    /// time.</summary>
    /// <param name="count">What is up.</param>
    /// <param name="days">Days since wetting.</param>
    /// <param name="quietDays">Days since the last one came.</param>
    /// <param name="expectedDays">Days until half were expected, at the temperatures seen; null when that cannot be said.</param>
    public bool MayBeCalled(SeedCount count, double days, double quietDays, double? expectedDays) =>
        count.Up == count.Seeds
        || (days >= FinalCountDay && quietDays >= 2)
        || (expectedDays is { } expected && days >= 2 * expected && days >= FinalCountDay / 2.0 && quietDays >= QuietDays && count.Up > 0);

    private static IEnumerable<string> Advise(Crop crop, bool fewer, bool isTreated)
    {
        yield return isTreated
            ? "The lot is treated: with gloves, press the seeds one by one into a box of damp mix, none touching, as its "
                + "label says; no towel."
            : "Lay the seeds on a towel that is wrung until it no longer drips, none touching; fold, and keep it in a bag "
                + "left partly open.";
        yield return "Count only those with a healthy root and shoot, not mouldy ones; look every day.";
        if (fewer)
        {
            yield return "Few seeds are left, so no more than half of them are tested; the answer is rougher for it.";
        }

        var note = crop.Guide?.LabTest?.Note ?? string.Empty;
        if (note.Contains("light", StringComparison.OrdinalIgnoreCase) || crop.Light == LightNeed.NeedsLight)
        {
            yield return $"It wants light: lay the seeds on top of the {(isTreated ? "mix" : "towel")} under a clear lid, not in "
                + $"a dark cupboard.";
        }

        if (note.Contains("dry side", StringComparison.OrdinalIgnoreCase))
        {
            yield return isTreated ? "Keep the mix on the dry side."
                : "Keep it on the dry side: press the damp towel against a dry one first.";
        }

        if (SowingAdvice.Pretreatment(crop) is { } before && !(isTreated && SowingAdvice.HandlesSeed(crop)))
        {
            yield return $"Before: {before}.";
        }
    }
}

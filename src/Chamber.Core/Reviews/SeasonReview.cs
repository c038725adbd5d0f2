using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Plans;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Statistics;

namespace Chamber.Core.Reviews;

/// <summary>What became of one batch.</summary>
/// <param name="Batch">Its name.</param>
/// <param name="Crop">What was sown.</param>
/// <param name="Lot">From which lot.</param>
/// <param name="Spot">Where it stood until it was up.</param>
/// <param name="Method">How it was sown.</param>
/// <param name="Count">How many came up.</param>
/// <param name="First">Days between which the first came up: after the last look without, by the first with; null when nothing came
/// up.</param>
/// <param name="PlantedOut">Plants that reached the garden.</param>
/// <param name="Cost">What its seed cost; null when unknown.</param>
/// <param name="Diagnosis">Whose doing it was, and what it cost.</param>
/// <param name="IsSettled">Whether no more are waited for; until then its count says nothing of spot, lot or method.</param>
public sealed record BatchOutcome(
    BatchId Batch,
    CropId Crop,
    LotId? Lot,
    SpotId? Spot,
    SowingMethod Method,
    SeedCount Count,
    (double After, double By)? First,
    int PlantedOut,
    decimal? Cost,
    BatchDiagnosis Diagnosis,
    bool IsSettled = true);

/// <summary>Batches that have something in common, added up.</summary>
/// <param name="Name">What they have in common.</param>
/// <param name="Batches">How many.</param>
/// <param name="Share">The share up, with its 95 % Wilson interval; it takes seeds of several batches as alike, so the truth is
/// wider.</param>
/// <param name="DaysAfter">Median days to the first, which lie after this: the median of the last looks without; null when nothing came
/// up.</param>
/// <param name="DaysBy">And by this: the median of the first looks with.</param>
/// <param name="PlantedOut">Plants that reached the garden.</param>
public sealed record SeasonLine(string Name, int Batches, ShareInterval Share, double? DaysAfter, double? DaysBy, int PlantedOut);

/// <summary>A season: spots, lots, methods, money, and what to do differently.</summary>
/// <param name="StillComing">Batches that may still come up; they are in the costs, and in no share.</param>
/// <param name="Spots">By spot, best share first.</param>
/// <param name="Lots">By lot.</param>
/// <param name="Methods">By method.</param>
/// <param name="PlantedOut">Plants that reached the garden.</param>
/// <param name="Cost">What all of it cost, by part, as far as known.</param>
/// <param name="Saved">What it saved against bought plants; null without a price to compare with.</param>
/// <param name="NextYear">At most three lines for next year.</param>
public sealed record SeasonReview(
    IReadOnlyList<BatchId> StillComing,
    IReadOnlyList<SeasonLine> Spots,
    IReadOnlyList<SeasonLine> Lots,
    IReadOnlyList<SeasonLine> Methods,
    int PlantedOut,
    PlantCost Cost,
    decimal? Saved,
    IReadOnlyList<string> NextYear)
{
    private const int LinesMax = 3;

    /// <summary>A lot below this share is worth dropping.</summary>
    private const double WeakLot = 0.5;

    /// <summary>Adds up a season.</summary>
    /// <param name="outcomes">Its batches, tests left out.</param>
    /// <param name="cost">What seed, mix, heat and pots came to.</param>
    /// <param name="boughtEach">The price of a bought plant, or null.</param>
    public static SeasonReview Of(IReadOnlyCollection<BatchOutcome> outcomes, PlantCost cost, decimal? boughtEach)
    {
        ArgumentNullException.ThrowIfNull(outcomes);
        ArgumentNullException.ThrowIfNull(cost);
        var settled = outcomes.Where(outcome => outcome.IsSettled).ToList();
        return new(
            [.. outcomes.Where(outcome => !outcome.IsSettled).Select(outcome => outcome.Batch)],
            Lines(settled, outcome => outcome.Spot?.Text),
            Lines(settled, outcome => outcome.Lot?.Text),
            Lines(settled, outcome => Words(outcome.Method)),
            outcomes.Sum(outcome => outcome.PlantedOut),
            cost,
            boughtEach is { } each ? cost.Saved(each) : null,
            [.. Advice(outcomes, settled).Take(LinesMax)]);
    }

    private static SeasonLine[] Lines(IEnumerable<BatchOutcome> outcomes, Func<BatchOutcome, string?> key) =>
        [.. outcomes.Where(outcome => key(outcome) is not null).GroupBy(outcome => key(outcome)!)
            .Select(group => new SeasonLine(
                group.Key,
                group.Count(),
                BinomialInterval.Wilson(new(group.Sum(one => one.Count.Up), group.Sum(one => one.Count.Seeds))),
                Median(group.Select(one => one.First?.After)),
                Median(group.Select(one => one.First?.By)),
                group.Sum(one => one.PlantedOut)))
            .OrderByDescending(line => line.Share.Mid).ThenBy(line => line.Name, StringComparer.Ordinal)];

    private static IEnumerable<string> Advice(IReadOnlyCollection<BatchOutcome> outcomes, IReadOnlyCollection<BatchOutcome> settled)
    {
        foreach (var line in BetterSpots(settled))
        {
            yield return line;
        }

        // A lot is not to blame for what a hot spot or a wet towel did.
        var fair = settled.Where(outcome => outcome.Diagnosis.Blame is Blame.Seed or Blame.Nobody or Blame.CannotSay);
        if (Lines(fair, outcome => outcome.Lot?.Text).LastOrDefault(line => line.Share.High < WeakLot) is { } weak)
        {
            yield return $"Test lot {weak.Name} on a towel before you sow more of it: under half of it came up.";
        }

        // What cost the most seed and plants is the first thing to do differently.
        if (outcomes.Where(outcome => outcome.Diagnosis.NextTime.Length > 0).GroupBy(outcome => outcome.Diagnosis.NextTime)
            .MaxBy(group => group.Sum(one => one.Diagnosis.Loss.Seeds)) is { } dearest)
        {
            yield return dearest.Key;
        }
    }

    /// <summary>Spots are compared within one crop: lettuce on a mat says nothing about tomatoes on a sill.</summary>
    private static IEnumerable<string> BetterSpots(IEnumerable<BatchOutcome> outcomes) =>
        from crop in outcomes.GroupBy(outcome => outcome.Crop)
        let spots = Lines(crop, outcome => outcome.Spot?.Text)
        where spots.Length > 1 && spots[0].Share.Low > spots[^1].Share.High
        select $"Sow {crop.Key} on {spots[0].Name} rather than on {spots[^1].Name}: the difference is more than chance.";

    private static double? Median(IEnumerable<double?> days)
    {
        double[] sorted = [.. days.OfType<double>().Order()];
        return sorted.Length == 0 ? null : (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }

    private static string Words(SowingMethod method) => method switch
    {
        SowingMethod.CoveredMix => "covered mix",
        SowingMethod.OpenMix => "open mix",
        _ => "damp towel",
    };
}

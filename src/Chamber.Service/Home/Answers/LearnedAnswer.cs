using Chamber.Core.Batches;
using Chamber.Core.Forecasts.Learning;

namespace Chamber.Service.Home.Answers;

/// <summary>What was learned, for programs: factors on the warm-hours of the table (0.8 is a fifth quicker), with 80 % intervals.</summary>
internal sealed record LearnedAnswer(int Batches, IReadOnlyList<LearnedFactor> Learned, double StrayingScale,
    IReadOnlyList<OddBatchAnswer> Odd)
{
    public static LearnedAnswer Of(HomeKnowledge knowledge) =>
        new(knowledge.Batches, knowledge.Learned, knowledge.StrayingScale,
            [.. knowledge.OddBatches.Select(odd => new OddBatchAnswer(odd.Batch, odd.Chance))]);
}

/// <summary>A batch that looks odd beside the others, with the chance that it is.</summary>
internal sealed record OddBatchAnswer(BatchId Batch, double Chance);

/// <summary>What was learned, in words: the same on the command line and the page.</summary>
internal static class LearnedWords
{
    public const string Basis =
        "Ranges hold four times in five. The fewer batches behind one, the closer it stays to the tables; old batches count for less.";

    public static string Headline(HomeKnowledge knowledge) => knowledge.Batches == 0
        ? "Nothing yet: forecasts come from the tables alone."
        : Sorted(knowledge).FirstOrDefault() is { IsProved: true } proved ? $"{PlainText.Capital(proved.Words)}."
        : $"Nothing is certain yet, from {CountText.Of(knowledge.Batches, "batch", "batches")}.";

    /// <summary>Everything else that was learned, what is proved first.</summary>
    public static IEnumerable<string> Further(HomeKnowledge knowledge) =>
        Sorted(knowledge).Skip(knowledge.Learned.Any(factor => factor.IsProved) ? 1 : 0)
            .Select(factor => $"{PlainText.Capital(factor.Words)}.");

    public static IEnumerable<(BatchId Batch, string Words)> Odd(HomeKnowledge knowledge) => knowledge.OddBatches.Select(odd => (odd.Batch,
        $"{odd.Batch} looks odd beside the others ({RangeText.Percent(odd.Chance)}), so it counts for little: did it dry out, get mixed up, "
        + "or go under the wrong name?"));

    /// <summary>How far single batches stray here; null for as far as anywhere.</summary>
    public static string? Straying(HomeKnowledge knowledge) => knowledge.StrayingScale == 1 ? null
        : Math.Sqrt(knowledge.StrayingScale) - 1 is var change
            ? $"Single batches here stray {RangeText.Percent(Math.Abs(change))} {(change < 0 ? "less" : "more")} from that than is assumed of "
                + "any home, and forecasts are as wide as that says." : null;

    private static IEnumerable<LearnedFactor> Sorted(HomeKnowledge knowledge) =>
        knowledge.Learned.OrderByDescending(factor => factor.IsProved);
}

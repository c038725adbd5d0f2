using Chamber.Core.Batches;
using Chamber.Core.Forecasts.Learning;

namespace Chamber.Service.Home.Answers;

/// <summary>What was learned, for programs, with 80 % intervals.</summary>
/// <param name="Batches">How many batches stand behind it.</param>
/// <param name="Learned">Factors on the warm-hours of the table: 0.8 is a fifth quicker.</param>
/// <param name="Shapes">Bases of crops in °C, and spreads as σ of ln warm-hours, beside the table's.</param>
/// <param name="StrayingScale">By what the variance of a single batch is multiplied.</param>
/// <param name="Variances">By what the variances of lots, methods and crops are multiplied; none before eight batches.</param>
/// <param name="Odd">The batches that look odd beside the others.</param>
/// <param name="Others">What other homes' batches have taught, from which this home starts; null for nothing.</param>
internal sealed record LearnedAnswer(int Batches, IReadOnlyList<LearnedFactor> Learned, IReadOnlyList<LearnedShape> Shapes,
    double StrayingScale, IReadOnlyList<LearnedVariance> Variances, IReadOnlyList<OddBatchAnswer> Odd, OtherHomesAnswer? Others)
{
    public static LearnedAnswer Of(HomeKnowledge knowledge) =>
        new(knowledge.Batches, knowledge.Learned, knowledge.Shapes, knowledge.StrayingScale, knowledge.Variances,
            [.. knowledge.OddBatches.Select(odd => new OddBatchAnswer(odd.Batch, odd.Chance))],
            knowledge.Others is { } others ? new(others.Homes, others.Batches, others.Learned) : null);
}

/// <summary>What other homes' batches have taught.</summary>
/// <param name="Homes">How many homes.</param>
/// <param name="Batches">How many batches they gave.</param>
/// <param name="Learned">Factors on the warm-hours of the table, in a home that lies in the middle.</param>
internal sealed record OtherHomesAnswer(int Homes, int Batches, IReadOnlyList<LearnedElsewhere> Learned);

/// <summary>A batch that looks odd beside the others, with the chance that it is.</summary>
internal sealed record OddBatchAnswer(BatchId Batch, double Chance);

/// <summary>One thing that was learned.</summary>
/// <param name="IsProved">Whether it is certain.</param>
/// <param name="Words">What, from how many batches and how far it is likely to reach, with "; " between.</param>
/// <param name="OfTable">The 80 % interval as shares of what the table says; null where there is no such share.</param>
internal sealed record LearnedLine(bool IsProved, string Words, (double Low, double High)? OfTable)
{
    public string Sentence => $"{PlainText.Capital(Words)}.";

    /// <summary>What was learned, by itself.</summary>
    public string What => $"{PlainText.Capital(Words.Split("; ", 2)[0])}.";

    /// <summary>What stands behind it.</summary>
    public string Behind => Words.Split("; ", 2) is [_, var behind] ? $"{PlainText.Capital(behind)}." : "";
}

/// <summary>What was learned, in words: the same on the command line and the page.</summary>
internal static class LearnedWords
{
    public const string Basis =
        "Ranges are right about 4 times in 5. The fewer batches behind one, the closer it stays to the tables; old batches count for less.";

    public static string Headline(HomeKnowledge knowledge) => knowledge.Batches == 0
        ? knowledge.Others is { } others ? $"From your own batches nothing yet: forecasts start from {OthersCount(others)}."
            : "Nothing yet: forecasts come from the tables alone."
        : Learned(knowledge).FirstOrDefault(learned => learned.IsProved) is { } proved ? proved.Sentence
        : $"Nothing is certain yet, from {CountText.Of(knowledge.Batches, "batch", "batches")}.";

    /// <summary>Everything that is certain.</summary>
    public static IReadOnlyList<LearnedLine> Certain(HomeKnowledge knowledge) =>
        [.. Learned(knowledge).Where(learned => learned.IsProved)];

    /// <summary>What may still turn out to be nothing.</summary>
    public static IReadOnlyList<LearnedLine> Uncertain(HomeKnowledge knowledge) =>
        [.. Learned(knowledge).Where(learned => !learned.IsProved)];

    /// <summary>What comes from other homes, and how it goes together with one's own; first what is certain.</summary>
    public static IReadOnlyList<string> Elsewhere(HomeKnowledge knowledge) => knowledge.Others is not { } others ? [] :
    [
        $"From {OthersCount(others)}: forecasts start from these, and your own batches count on top of them.",
        .. others.Learned.Where(learned => learned.IsProved).Select(learned => $"{PlainText.Capital(learned.Words)}."),
    ];

    private static string OthersCount(SharedKnowledge others) =>
        others.Homes == 1 ? "another home's batches" : $"{CountText.Of(others.Homes, "home")}' batches";

    public static IEnumerable<(BatchId Batch, string Words)> Odd(HomeKnowledge knowledge) => knowledge.OddBatches.Select(odd => (odd.Batch,
        $"{odd.Batch} looks odd beside the others ({RangeText.Percent(odd.Chance)}), so it counts for little: did it dry out, get mixed up, "
        + "or go under the wrong name?"));

    /// <summary>How far single batches stray here; null for as far as anywhere.</summary>
    private static string? Straying(HomeKnowledge knowledge) => knowledge.StrayingScale == 1 ? null
        : Math.Sqrt(knowledge.StrayingScale) - 1 is var change
            ? $"Single batches here vary {RangeText.Percent(Math.Abs(change))} {(change < 0 ? "less" : "more")} than "
                + $"{(knowledge.Others is null ? "is assumed for any home" : "in other homes")}, so forecasts are that much "
                + $"{(change < 0 ? "narrower" : "wider")}." : null;

    /// <summary>How far lots, methods and crops lie apart here, and single batches from what these say.</summary>
    public static IEnumerable<string> Apart(HomeKnowledge knowledge)
    {
        var said = knowledge.Variances.Select(variance => $"{PlainText.Capital(variance.Words)}.");
        return Straying(knowledge) is { } straying ? said.Append(straying) : said;
    }

    // A base has no share of the table's: 0 °C is no origin.
    private static IEnumerable<LearnedLine> Learned(HomeKnowledge knowledge) =>
        knowledge.Learned.Select(factor => new LearnedLine(factor.IsProved, factor.Words, (factor.Low, factor.High)))
            .Concat(knowledge.Shapes.Select(shape => new LearnedLine(shape.IsProved, shape.Words,
                shape.Kind == FactorKind.Base ? null : (shape.Low / shape.Table, shape.High / shape.Table))));
}

using Chamber.Core.Batches;
using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>What this home's batches have taught.</summary>
internal static class LearnedVerb
{
    public static Verb Create() =>
        new Verb("learned", "Shows what your batches have taught: how much faster or slower seed comes up here than in the tables.",
            "chamber learned",
            "chamber learned --json")
            .LooksBack()
            .Does(invocation =>
            {
                var knowledge = invocation.Home.At(invocation.Now).Forecasts.Knowledge;
                invocation.Answer(LearnedAnswer.Of(knowledge), screen => Show(screen, knowledge));
            });

    private static void Show(Screen screen, HomeKnowledge knowledge)
    {
        if (knowledge.Batches == 0)
        {
            screen.Headline("Nothing yet: forecasts come from the tables alone.");
            screen.Say("Every look teaches something, even a count of 0: chamber look T3 0");
            return;
        }

        var (proved, open) = (knowledge.Learned.Where(factor => factor.IsProved).ToList(),
            knowledge.Learned.Where(factor => !factor.IsProved).ToList());
        screen.Headline(proved.Count > 0 ? $"{PlainText.Capital(proved[0].Words)}."
            : $"Nothing is certain yet, from {Count(knowledge.Batches)}.");
        screen.Say();
        foreach (var factor in proved.Skip(1).Concat(open))
        {
            screen.Say($"{PlainText.Capital(factor.Words)}.");
        }

        foreach (var (batch, chance) in knowledge.OddBatches)
        {
            screen.Warn($"{batch} looks odd beside the others ({RangeText.Percent(chance)}), so it counts for little: did it dry out, get "
                + $"mixed up, or go under the wrong name?");
        }

        if (knowledge.StrayingScale != 1)
        {
            var change = Math.Sqrt(knowledge.StrayingScale) - 1;
            screen.Say($"Single batches here stray {RangeText.Percent(Math.Abs(change))} {(change < 0 ? "less" : "more")} from that "
                + "than is assumed of any home, and forecasts are as wide as that says.");
        }

        screen.Aside("Ranges hold four times in five. The fewer batches behind one, the closer it stays to the tables; old batches "
            + "count for less.");
    }

    private static string Count(int batches) => batches == 1 ? "1 batch" : $"{batches} batches";
}

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

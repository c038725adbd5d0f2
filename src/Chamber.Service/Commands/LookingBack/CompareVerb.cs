using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Statistics;
using Chamber.Service.Commands.Sowing;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Two counts, or two batches, beside each other.</summary>
internal static class CompareVerb
{
    public static Verb Create()
    {
        var counts = new Option<string[]>("--counts") { HelpName = "UP/SEEDS", Description = "Two counts: 11/14 7/15.",
            AllowMultipleArgumentsPerToken = true };
        var batches = new Option<string[]>("--batches") { HelpName = "BATCH", Description = "Two batches, by their last look: T3 T4.",
            AllowMultipleArgumentsPerToken = true };
        return new Verb(
            "compare",
            "Says whether one method, spot or lot did better than another, or whether it was chance.",
            "chamber compare --counts 11/14 7/15",
            "chamber compare --batches T3 T4 --json") { counts, batches }
            .LooksBack()
            .Does(invocation =>
            {
                var typed = invocation.Parse.GetValue(counts) ?? [];
                var named = invocation.Parse.GetValue(batches) ?? [];
                if ((typed.Length == 2) == (named.Length == 2) || typed.Length + named.Length != 2)
                {
                    throw new BadInputException("Name two counts or two batches: chamber compare --counts 11/14 7/15");
                }

                if (typed.Length == 2)
                {
                    Answer(invocation, CountComparison.Of(SeedCount.Parse(typed[0]), SeedCount.Parse(typed[1])), null, null);
                    return;
                }

                var pair = Array.ConvertAll(named, name => BatchesVerb.Require(invocation, new BatchId(name)));
                var diagnoses = invocation.Home.At(invocation.Now).Diagnoses;
                var both = BatchPair.Of(diagnoses.Of(pair[0]), diagnoses.Of(pair[1]));
                Answer(invocation, BatchComparison.Counts(diagnoses, pair[0], pair[1]), both, BatchComparison.Speed(pair[0], pair[1]));
            });
    }

    private static void Answer(Invocation invocation, CountComparison comparison, BatchPair? pair, SpeedComparison? speed)
    {
        invocation.Answer(CompareAnswer.Of(comparison, pair, speed), screen =>
        {
            screen.Headline(BatchComparison.Headline(comparison, speed));
            screen.Say(comparison.Words);
            if (speed is not null)
            {
                screen.Say(speed.Words);
            }

            foreach (var line in pair?.Diagnoses ?? [])
            {
                screen.Say(line);
            }

            if (pair?.Note is { } note)
            {
                screen.Warn(note);
            }

            screen.Aside("How many: Fisher's exact test, two-sided; 95 % interval of the difference by Newcombe's hybrid score (1998).");
            if (speed is not null)
            {
                screen.Aside("How fast: log-rank test from intervals (Sun 1996), among the seeds that came up; 95 % interval of "
                    + "lognormal times.");
            }
        });
    }
}

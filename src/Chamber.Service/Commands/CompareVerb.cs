using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Statistics;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Two counts, or two batches, beside each other.</summary>
internal static class CompareVerb
{
    public static Verb Create()
    {
        var counts = new Option<string[]>("--counts") { HelpName = "UP/SEEDS", Description = "Two counts, as 11/14 7/15.", AllowMultipleArgumentsPerToken = true };
        var batches = new Option<string[]>("--batches") { HelpName = "BATCH", Description = "Two batches, as T3 T4, by their last look.", AllowMultipleArgumentsPerToken = true };
        return new Verb(
            "compare",
            "Whether one method, spot or lot did better than another, or chance did.",
            "chamber compare --counts 11/14 7/15",
            "chamber compare --batches T3 T4 --json") { counts, batches }
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
                Answer(invocation, Counts(invocation.Home, invocation.Now, pair[0], pair[1]), BatchPair.Of(pair[0], pair[1]), Speed(pair[0], pair[1]));
            });
    }

    public static SeedCount Count(Batch batch) => batch.Looks.Count > 0
        ? new(batch.Looks[^1].Up, batch.Seeds)
        : throw new BadInputException($"Nobody has looked at {batch.Id} yet.") { Field = "batches", Kind = BadInputKind.Contradicts, Hint = $"Write down what is there: chamber look {batch.Id} 0" };

    /// <summary>How many, of two batches: one that is not finished yet proves nothing against itself.</summary>
    public static CountComparison Counts(HomeReader home, Instant now, Batch first, Batch second)
    {
        var forecasts = new HomeForecasts(home, now);
        return CountComparison.Of(Count(first), Count(second), Pending(first), Pending(second));

        string? Pending(Batch batch)
        {
            if (batch.EndedAt is not null || batch.Looks[^1].Up == batch.Seeds || forecasts.Of(batch) is { Stop.IsDue: true })
            {
                return null;
            }

            var until = forecasts.Of(batch)?.Stop.After is { } after ? $"; wait until {TimeText.ShowDay((batch.SownAt + after).InZone(home.Zone).Date, now.InZone(home.Zone).Date)}, or end it" : "; end it when you stop waiting";
            return $"more of {batch.Id} may come up{until}.";
        }
    }

    /// <summary>Roots and shoots come at different times, so their days are not compared.</summary>
    public static SpeedComparison? Speed(Batch first, Batch second) =>
        first.Method.Event() == second.Method.Event() ? SpeedComparison.Of(first.DayCounts, second.DayCounts) : null;

    /// <summary>The answer before the evidence.</summary>
    public static string Headline(CountComparison comparison, SpeedComparison? speed) => (comparison.IsProof, speed?.IsProof) switch
    {
        (_, true) when comparison.Pending is not null => "A real difference in how fast; too early to say how many.",
        _ when comparison.Pending is not null => "Too early to say.",
        (true, true) => "A real difference in how many and in how fast.",
        (true, _) => "A real difference in how many.",
        (_, true) => "A real difference in how fast; in how many no proof.",
        _ => "No proof.",
    };

    private static void Answer(Invocation invocation, CountComparison comparison, BatchPair? pair, SpeedComparison? speed)
    {
        invocation.Answer(CompareAnswer.Of(comparison, pair, speed), screen =>
        {
            screen.Headline(Headline(comparison, speed));
            screen.Say(comparison.Words);
            if (speed is not null)
            {
                screen.Say(speed.Words);
            }

            if (pair?.Note is { } note)
            {
                screen.Warn(note);
            }

            screen.Aside("How many: Fisher's exact test, two-sided; 95 % interval of the difference by Newcombe's hybrid score (1998).");
            if (speed is not null)
            {
                screen.Aside("How fast: log-rank test from intervals (Sun 1996), among the seeds that came up; 95 % interval of lognormal times.");
            }
        });
    }
}

/// <summary>What two batches have in common, and not.</summary>
/// <param name="First">The first.</param>
/// <param name="Second">The second.</param>
/// <param name="Note">Why they may not be comparable, or null.</param>
internal sealed record BatchPair(BatchId First, BatchId Second, string? Note)
{
    public static BatchPair Of(Batch first, Batch second)
    {
        if (first.Method.Event() != second.Method.Event())
        {
            return new(first.Id, second.Id, $"{first.Id} counts {Words(first.Method)}, {second.Id} counts {Words(second.Method)}: a root seen is not a shoot seen, so compare plants planted out instead.");
        }

        var differ = new[]
        {
            first.Crop == second.Crop ? null : "crop",
            first.Lot == second.Lot ? null : "lot",
            first.Method == second.Method ? null : "method",
            first.Stays is [var one, ..] && second.Stays is [var other, ..] && one.Spot == other.Spot ? null : "spot",
        }.OfType<string>().ToArray();
        return new(first.Id, second.Id, differ.Length > 1 ? $"They differ in {string.Join(", ", differ)}: one batch of each cannot tell which of these did it." : null);
    }

    private static string Words(SowingMethod method) => method.Event() == EmergenceEvent.RootSeen ? "roots" : "shoots";
}

/// <summary>A comparison for programs.</summary>
internal sealed record CompareAnswer(
    double PValue,
    ShareInterval Difference,
    double OddsRatio,
    double OddsLow,
    double OddsHigh,
    bool IsProof,
    int? SeedsToSettle,
    int? MoreOfFirst,
    int? MoreOfSecond,
    string Words,
    BatchPair? Batches,
    SpeedComparison? Speed)
{
    public static CompareAnswer Of(CountComparison comparison, BatchPair? pair, SpeedComparison? speed)
    {
        var odds = FisherExact.Of(comparison.First, comparison.Second);
        return new(
            comparison.PValue,
            comparison.Difference,
            odds.OddsRatio,
            odds.OddsLow,
            odds.OddsHigh,
            comparison.IsProof,
            comparison.SeedsToSettle,
            comparison.MoreSeeds?.First,
            comparison.MoreSeeds?.Second,
            comparison.Words,
            pair,
            speed);
    }
}

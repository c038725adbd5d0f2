using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Statistics;

namespace Chamber.Service.Home.Answers;

/// <summary>Two batches beside each other: what is compared, and what comes first when it is said.</summary>
internal static class BatchComparison
{
    private static SeedCount Count(Batch batch, string name) => batch.Looks.Count > 0
        ? new(batch.Looks[^1].Up, batch.Seeds)
        : throw new BadInputException($"Nobody has looked at {name} yet.") { Field = "batches", Kind = BadInputKind.Contradicts,
            Hint = $"Record what is there: chamber look {batch.Id} 0" };

    /// <summary>How many, of two batches: one that is not finished yet proves nothing against itself.</summary>
    public static CountComparison Counts(HomeDiagnoses diagnoses, Batch first, Batch second)
    {
        return CountComparison.Of(
            Count(first, diagnoses.Name(first.Id)), Count(second, diagnoses.Name(second.Id)), Pending(first), Pending(second));

        string? Pending(Batch batch)
        {
            var (_, forecast, diagnosis) = diagnoses.Of(batch);
            if (batch.EndedAt is not null || batch.Looks[^1].Up == batch.Seeds || diagnosis?.Phase is BatchPhase.Due or BatchPhase.Over)
            {
                return null;
            }

            var until = diagnosis?.Phase == BatchPhase.Unseen ? "; look at it first"
                : forecast?.Stop.After is { } after ? $"; wait until {diagnoses.Day(batch.SownAt + after)}, or end it"
                : "; end it when you stop waiting";
            return $"more of {diagnoses.Name(batch.Id)} may come up{until}.";
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
}

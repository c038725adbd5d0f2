using Chamber.Core.Forecasts.Learning;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// Keeps what the home's batches have taught until something that it was learned from has changed: a batch, a lot or test, a spot, where
/// probes stood, what was added to or set aside of their readings, crops, or readings of the time that the batches' looks cover. Any
/// thread may ask; one learns, others wait for it.
/// </summary>
internal sealed class HomeLearning
{
    /// <summary>Batches and lots age, and what is usual on a spot changes, though slowly.</summary>
    private static readonly Duration AgeMax = Duration.FromHours(1);

    // Between making a reader and asking it.
    private static readonly Duration Moment = Duration.FromMinutes(1);

    // The warmth of a batch is asked for from a little before its sowing.
    private static readonly Duration Before = Duration.FromHours(2);

    private readonly Lock gate = new();
    private Kept? kept;

    /// <summary>What was learned by the moment of a reader, at most an hour before; what was known at another moment is learned
    /// again.</summary>
    public HomeKnowledge Of(HomeReader home, HomeForecasts forecasts)
    {
        if (forecasts.Now < home.Now - Moment || forecasts.Now > home.Now + Moment)
        {
            return forecasts.Learn();
        }

        lock (gate)
        {
            var basis = LearningBasis.Of(home);
            if (kept is { } known && home.Now >= known.At && home.Now - known.At <= AgeMax && known.Basis.Equals(basis))
            {
                var changes = AtHand.Of(home.Store.ChangesSinceAsync(known.Mark));
                if (!changes.Stretches.Any(stretch => Overlap(stretch.When, known.Covers)))
                {
                    kept = known with { Mark = changes.Mark };
                    return known.Knowledge;
                }
            }

            // The mark first: a reading that comes in meanwhile is then new to the next who asks.
            var mark = AtHand.Of(home.Store.ChangesSinceAsync(kept?.Mark ?? JournalMark.Beginning)).Mark;
            kept = new(home.Now, basis, Covers(home), mark, forecasts.Learn());
            return kept.Knowledge;
        }
    }

    private static Interval? Covers(HomeReader home)
    {
        var looked = home.Ledger.Batches.Where(batch => batch.Looks.Count > 0).ToList();
        return looked.Count == 0 ? null
            : new(looked.Min(batch => batch.SownAt) - Before, looked.Max(batch => batch.Looks[^1].At) + Duration.Epsilon);
    }

    private static bool Overlap(Interval stretch, Interval? covered) =>
        covered is { } time && (!stretch.HasStart || stretch.Start < time.End) && (!stretch.HasEnd || stretch.End > time.Start);

    private sealed record Kept(Instant At, LearningBasis Basis, Interval? Covers, JournalMark Mark, HomeKnowledge Knowledge);
}

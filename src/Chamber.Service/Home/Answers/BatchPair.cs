using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Spots;

namespace Chamber.Service.Home.Answers;

/// <summary>What two batches have in common, and not.</summary>
/// <param name="First">The first.</param>
/// <param name="Second">The second.</param>
/// <param name="Note">Why they may not be comparable, or null.</param>
/// <param name="Diagnoses">What was, or is, the matter with each, as its review says it.</param>
internal sealed record BatchPair(BatchId First, BatchId Second, string? Note, IReadOnlyList<string> Diagnoses)
{
    /// <exception cref="BadInputException">It is one batch.</exception>
    public static BatchPair Of(BatchOutlook one, BatchOutlook other)
    {
        if (one.Batch.Id == other.Batch.Id)
        {
            throw BadInputException.In("batches", $"{one.Batch.Id} cannot be compared with itself: name two batches.");
        }

        var said = new[] { one, other }.Where(each => each.Diagnosis is not null)
            .Select(each => $"{each.Batch.Id}: {each.Diagnosis!.Sentence}").ToList();
        return new(one.Batch.Id, other.Batch.Id, NoteOn(one.Batch, other.Batch) ?? Because(one, other) ?? Because(other, one), said);
    }

    /// <summary>Why a difference may lie in what one of them met, and not in what was to be compared.</summary>
    private static string? Because(BatchOutlook one, BatchOutlook other) =>
        one.Diagnosis is { Blame: Blame.Spot or Blame.Water or Blame.Grower } met && other.Diagnosis?.Cause.Kind != met.Cause.Kind
            && SpotOf(one.Batch) == SpotOf(other.Batch)
            ? $"{one.Batch.Id} met what {other.Batch.Id} did not. {DiagnosisWords.Why(met.Cause.Kind)} That may be the whole difference."
            : null;

    private static SpotId? SpotOf(Batch batch) => batch.Stays is [var first, ..] ? first.Spot : null;

    private static string? NoteOn(Batch first, Batch second)
    {
        if (first.Method.Event() != second.Method.Event())
        {
            return $"{first.Id} counts {Words(first.Method)}, {second.Id} counts {Words(second.Method)}: a root seen is not a shoot seen, "
                + $"so compare plants planted out instead.";
        }

        var differ = new[]
        {
            first.Crop == second.Crop ? null : "crop",
            first.Lot == second.Lot ? null : "lot",
            first.Method == second.Method ? null : "method",
            first.Stays is [var one, ..] && second.Stays is [var other, ..] && one.Spot == other.Spot ? null : "spot",
        }.OfType<string>().ToArray();
        return differ.Length > 1 ? $"They differ in {string.Join(", ", differ)}: any of these may be why."
            : null;
    }

    private static string Words(SowingMethod method) => method.Event() == EmergenceEvent.RootSeen ? "roots" : "shoots";
}

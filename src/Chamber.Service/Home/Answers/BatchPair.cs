using Chamber.Core.Batches;

namespace Chamber.Service.Home.Answers;

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

using Chamber.Core.Batches;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Homes;

/// <summary>Something was seen or done at a batch or a spot, in somebody's own words; nothing is counted.</summary>
/// <param name="Text">What; not empty.</param>
/// <param name="Batch">At which batch; null for a spot.</param>
/// <param name="Spot">On which spot; null for a batch.</param>
public sealed record Noted(string Text, BatchId? Batch = null, SpotId? Spot = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [BatchOrSpot.Subject(Batch, Spot)];

    public override string Words(ShownNames names) => $"{names.Of(BatchOrSpot.Subject(Batch, Spot))}: {Text}";

    internal override void Apply(HomeFold home, Instant at)
    {
        BatchOrSpot.Require(home, Batch, Spot);
        FactRefusedException.When(string.IsNullOrWhiteSpace(Text), $"A note has a text.", "text");
        FactRefusedException.When(WithinBounds.WhyNot(at) ?? Bounds.Note.WhyNot(Text), "text");
        home.Notes.Add(new(BatchOrSpot.Subject(Batch, Spot), at, Text));
    }
}

/// <summary>What facts that are about either a batch or a spot have in common.</summary>
internal static class BatchOrSpot
{
    public static FactSubject Subject(BatchId? batch, SpotId? spot) =>
        batch is { } one ? FactSubject.Of(one) : spot is { } other ? FactSubject.Of(other) : FactSubject.Home;

    public static void Require(HomeFold home, BatchId? batch, SpotId? spot)
    {
        FactRefusedException.When(batch is null == spot is null, $"Say which batch or which spot, and not both.");
        if (batch is { } one)
        {
            home.Require(one);
        }

        if (spot is { } other)
        {
            home.Require(other);
        }
    }
}

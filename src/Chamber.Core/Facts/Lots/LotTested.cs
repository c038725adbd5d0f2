using Chamber.Core.Batches;
using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Core.Facts.Lots;

/// <summary>A lot was tested, or its test called. One of the same lot and start replaces it, as when a running test is called.</summary>
/// <param name="Lot">Which lot.</param>
/// <param name="Seeds">How many seeds, at least 1.</param>
/// <param name="Good">How many gave a healthy root and shoot; 0 to the seeds.</param>
/// <param name="CalledAt">When it was called; null while it runs.</param>
/// <param name="Fair">Whether the conditions were fair to the seed.</param>
/// <param name="Batch">The batch it was run as, when it was.</param>
/// <param name="Note">What else was seen, or null.</param>
public sealed record LotTested(
    LotId Lot, int Seeds, int Good, Instant? CalledAt = null, bool Fair = true, BatchId? Batch = null, string? Note = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() =>
        Batch is { } batch ? [FactSubject.Of(batch), FactSubject.Of(Lot)] : [FactSubject.Of(Lot)];

    public static DatedFact Of(LotTest test)
    {
        ArgumentNullException.ThrowIfNull(test);
        return new LotTested(test.Lot, test.Seeds, test.Good, test.CalledAt, test.Fair, test.Batch, test.Note).At(test.StartedAt);
    }

    public override string Words(ShownNames names) =>
        FactWords.Line(CalledAt is null ? $"test of lot {Lot} with {Seeds} seeds begun"
            : $"{Good} of {Seeds} good in a test of lot {Lot}", Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(Lot);
        var test = new LotTest(Lot, at, CalledAt, Seeds, Good, Fair, Batch, Note);
        FactRefusedException.When(WithinBounds.WhyNot(test));
        FactRefusedException.When(Good < 0 || Good > Seeds, $"{Good} good is more than the {Seeds} seeds.", "good");
        FactRefusedException.When(CalledAt < at, $"A test is called after it was started.", "calledAt");
        if (Batch is { } batch)
        {
            home.Require(batch);
        }

        if (home.Tests.TryGetValue(Lot, out var known))
        {
            home.Tests[Lot] = [.. known.Where(one => one.StartedAt != at)];
        }

        HomeFold.Add(home.Tests, Lot, test, one => one.StartedAt);
    }
}

using Chamber.Core.Batches;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>A batch was put on another spot; where it stood before ends then.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Spot">Where it stands from then on.</param>
public sealed record BatchMoved(BatchId Batch, SpotId Spot) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch), FactSubject.Of(Spot)];

    public override string Words(ShownNames names) => $"{names.Of(Batch)} put on {names.Of(Spot)}";

    internal override void Apply(HomeFold home, Instant at)
    {
        var batch = home.Require(Batch);
        home.Require(Spot);
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        home.Batches[Batch] = BatchStays.Moved(batch, Spot, at);
    }
}

/// <summary>A batch stood on a spot, written down after the fact.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Spot">Where it stood.</param>
/// <param name="Until">When it left; null while it stands there.</param>
public sealed record BatchStood(BatchId Batch, SpotId Spot, Instant? Until = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch), FactSubject.Of(Spot)];

    public override string Words(ShownNames names) => $"{names.Of(Batch)} stood on {names.Of(Spot)}";

    internal override void Apply(HomeFold home, Instant at)
    {
        var batch = home.Require(Batch);
        home.Require(Spot);
        FactRefusedException.When(Until <= at, $"Batch \"{Batch}\" cannot leave before it came.", "until");
        FactRefusedException.When(WithinBounds.WhyNot(new Interval(at, Until)), "at");
        home.Batches[Batch] = BatchStays.Placed(batch, new(Spot, new(at, Until)));
    }
}

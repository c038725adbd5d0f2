using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>Plants were lost after they had come up.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Plants">How many, at least 1; with those before no more than came up.</param>
/// <param name="Cause">What to.</param>
/// <param name="Note">What else, or null.</param>
public sealed record PlantsLost(BatchId Batch, int Plants, LossCause Cause = LossCause.Unknown, string? Note = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => FactWords.Line(
        $"{FactWords.Count(Plants, "plant")} of {names.Of(Batch)} lost", Cause == LossCause.Unknown ? null : FactWords.Word(Cause), Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        var (batch, loss) = (home.Require(Batch), new Loss(at, Plants, Cause, Note));
        FactRefusedException.When(WithinBounds.WhyNot(loss));
        home.Batches[Batch] = BatchRules.Lost(batch, loss);
    }
}

/// <summary>A batch was wetted again.</summary>
/// <param name="Batch">Which batch.</param>
public sealed record BatchWetted(BatchId Batch) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => $"{names.Of(Batch)} watered";

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        home.Batches[Batch] = BatchRules.Wetted(home.Require(Batch), at);
    }
}

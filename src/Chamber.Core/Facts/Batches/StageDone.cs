using Chamber.Core.Batches;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>Somebody did the next thing to a batch.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Stage">What was done.</param>
/// <param name="Plants">To how many plants, at least 1; null when nobody counted.</param>
/// <param name="Note">What else, or null.</param>
/// <param name="Spot">Where it stands from then on, in one with it; null where it stood.</param>
public sealed record StageDone(BatchId Batch, StageKind Stage, int? Plants = null, string? Note = null, SpotId? Spot = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() =>
        Spot is { } spot ? [FactSubject.Of(Batch), FactSubject.Of(spot)] : [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) =>
        FactWords.Line($"{names.Of(Batch)} {(Stage == StageKind.MovedToLight ? "moved to the light" : FactWords.Word(Stage))}",
            Plants is { } plants ? FactWords.Count(plants, "plant") : null, Spot is { } spot
            ? $"on {names.Of(spot)}" : null, Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        var stage = new Stage(Stage, at, Plants, Note);
        FactRefusedException.When(WithinBounds.WhyNot(stage));
        var batch = home.Require(Batch);
        var done = BatchRules.Done(batch, stage);
        BatchRules.RequireNew(batch, stage);
        if (Spot is { } spot)
        {
            home.Require(spot);
            done = BatchStays.Moved(done, spot, at);
        }

        home.Batches[Batch] = done;
    }
}

using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>Somebody looked at a batch and counted. A count of 0 is a look like any other.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Up">How many were up in all; from 0 to the seeds, never falling.</param>
/// <param name="Note">What else was seen, or null.</param>
/// <param name="Moisture">How damp it felt; null when nobody said.</param>
public sealed record BatchLooked(BatchId Batch, int Up, string? Note = null, LookMoisture? Moisture = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => FactWords.Line(
        Up == 0 ? $"{names.Of(Batch)} looked at, nothing up" : $"{names.Of(Batch)} looked at, {Up} up", FactWords.Word(Moisture), Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        var (batch, look) = (home.Require(Batch), new Look(at, Up, Note, Moisture));
        FactRefusedException.When(WithinBounds.WhyNot(look));
        home.Batches[Batch] = BatchRules.Looked(batch, look);
    }
}

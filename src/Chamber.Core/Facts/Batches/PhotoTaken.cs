using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>Somebody took a photo of a batch. The file lies beside the data.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Photo">The name of the photo: what its file is called.</param>
/// <param name="Note">What it shows, or null.</param>
public sealed record PhotoTaken(BatchId Batch, string Photo, string? Note = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => FactWords.Line($"photo of {names.Of(Batch)}", Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        var (batch, photo) = (home.Require(Batch), new BatchPhoto(Photo, at, Note));
        FactRefusedException.When(WithinBounds.WhyNot(photo));
        home.Batches[Batch] = BatchPhotos.Taken(batch, photo);
    }
}

/// <summary>Somebody marked the seedlings on a photo: the marks are the count at the time of the photo.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Photo">The name of the photo.</param>
/// <param name="Marks">One mark for each seedling that is or was up, as "1 0.25 0.5; 2 0.75 0.5": number, share of the width, share of
/// the height.</param>
public sealed record PhotoMarked(BatchId Batch, string Photo, PhotoMarks Marks) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => $"{Marks.Count} seedlings of {names.Of(Batch)} marked on a photo";

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        home.Batches[Batch] = BatchPhotos.Marked(home.Require(Batch), Photo, Marks);
    }
}

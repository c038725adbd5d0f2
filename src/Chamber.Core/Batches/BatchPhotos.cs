using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>What may be recorded of photos of a batch, and what they tell.</summary>
public static class BatchPhotos
{
    /// <summary>A photo was taken.</summary>
    /// <exception cref="BatchRefusedException">It cannot be; the message says why and what to do.</exception>
    public static Batch Taken(Batch batch, BatchPhoto photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        BatchRules.RequireTime(batch, photo.At);
        BatchRules.Refuse(Find(batch, photo.Name) is not null, $"{batch.Id} has this very photo already.", "photo");
        BatchRules.Refuse(Bounds.Photos.WhyNot(batch.Photos.Count + 1) is not null,
            $"{batch.Id} has {batch.Photos.Count} photos, which is all that are kept: remove one first.", "photo");
        return batch with { Photos = BatchRules.Sorted(batch.Photos, photo, one => one.At) };
    }

    /// <summary>The seedlings on a photo were marked. The marks are the count: they make the look of that time.</summary>
    /// <exception cref="BatchRefusedException">It cannot be; the message says why and what to do.</exception>
    public static Batch Marked(Batch batch, string photo, PhotoMarks marks)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(marks);
        var found = Find(batch, photo);
        BatchRules.Refuse(found is null, $"{batch.Id} has no photo \"{photo}\".", "photo");
        var last = marks.Count > 0 ? marks[^1].Seedling : 0;
        BatchRules.Refuse(last > batch.Seeds, $"There is a mark with the number {last}, but only {batch.Seeds} seeds were sown.", "marks");
        var look = batch.Looks.LastOrDefault(look => look.At == found!.At) ?? new Look(found!.At, 0);
        var before = batch with { Looks = [.. batch.Looks.Where(look => look.At != found!.At)] };
        return BatchRules.Looked(before, look with { Up = marks.Count }) with
        {
            Photos = [.. batch.Photos.Select(one => one.Name == photo ? one with { Marks = marks } : one)],
        };
    }

    /// <summary>The marks to begin with on a photo: its own, otherwise those of the photo before it.</summary>
    public static PhotoMarks ToBeginWith(Batch batch, BatchPhoto photo)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(photo);
        return photo.Marks.Count > 0 ? photo.Marks
            : batch.Photos.LastOrDefault(one => one.At < photo.At && one.Marks.Count > 0)?.Marks ?? PhotoMarks.None;
    }

    /// <summary>On which photo each marked seedling is seen first, in order of their numbers: it came up after the photo before.</summary>
    public static IReadOnlyList<(int Seedling, Instant? NotYet, Instant Seen)> FirstSeen(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var marked = batch.Photos.Where(photo => photo.Marks.Count > 0).ToList();
        return [.. marked.SelectMany(photo => photo.Marks.Select(mark => (mark.Seedling, photo.At)))
            .GroupBy(one => one.Seedling, one => one.At).OrderBy(one => one.Key)
            .Select(one => (one.Key, Before(batch, one.Min()), one.Min()))];
    }

    /// <summary>A photo by its name; null when the batch has none of it.</summary>
    public static BatchPhoto? Find(Batch batch, string photo)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return batch.Photos.FirstOrDefault(one => one.Name == photo);
    }

    private static Instant? Before(Batch batch, Instant seen) =>
        batch.Photos.Where(photo => photo.At < seen).Select(photo => (Instant?)photo.At).LastOrDefault();
}

using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Service.Photos;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>What people record of photos of batches: one place for the page and the API.</summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="RefusedException"/>, and then nothing was
/// written down.</remarks>
internal sealed class HomePhotos(HomeReader home, PhotoShelf files, Instant now)
{
    /// <summary>Keeps a photo.</summary>
    /// <param name="name">Of which batch.</param>
    /// <param name="file">The file as it came.</param>
    /// <param name="at">When it was taken, as people write it; null for now.</param>
    /// <param name="note">What it shows, or null.</param>
    public BatchPhoto Take(string name, byte[] file, string? at = null, string? note = null)
    {
        var batch = home.RequireBatch(name);
        var photo = new BatchPhoto(files.Keep(file), home.PastOf(at, now), string.IsNullOrWhiteSpace(note) ? null : note.Trim());
        home.Writing(now).Batches.Record(batch.Id, photo);
        return photo;
    }

    /// <summary>Marks the seedlings on a photo; the marks are the count of its time.</summary>
    public Batch Mark(string name, string photo, PhotoMarks marks)
    {
        var batch = home.RequireBatch(name);
        home.Writing(now).Batches.Mark(batch.Id, photo, marks);
        return home.Ledger.Batch(batch.Id)!;
    }

    /// <summary>Removes a photo. Its file stays a week, so that this can be taken back.</summary>
    public void Remove(string name, string photo) => home.Writing(now).Batches.RemovePhoto(home.RequireBatch(name).Id, photo);
}

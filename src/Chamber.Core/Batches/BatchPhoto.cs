using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>A photo of a batch; the file lies beside the data.</summary>
/// <param name="Name">Its name: what its file is called, made of what is in it.</param>
/// <param name="At">When it was taken.</param>
/// <param name="Note">What it shows, or null.</param>
public sealed record BatchPhoto(string Name, Instant At, string? Note = null)
{
    /// <summary>Where on it the seedlings are, one mark each; none until somebody marks them.</summary>
    public PhotoMarks Marks { get; init; } = PhotoMarks.None;
}

/// <summary>Where on a photo one seedling is.</summary>
/// <param name="Seedling">Its number, from 1: the same on each photo of a batch.</param>
/// <param name="X">From the left edge, as a share of the width, 0 to 1.</param>
/// <param name="Y">From the upper edge, as a share of the height, 0 to 1.</param>
public readonly record struct PhotoMark(int Seedling, double X, double Y);

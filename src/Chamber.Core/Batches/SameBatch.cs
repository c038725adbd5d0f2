namespace Chamber.Core.Batches;

/// <summary>Whether two batches say the same. A batch holds lists, which as such are equal only to themselves.</summary>
public static class SameBatch
{
    public static bool Is(Batch one, Batch other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        return ReferenceEquals(one, other)
            || (Bare(one) == Bare(other) && one.Stays.SequenceEqual(other.Stays) && one.Looks.SequenceEqual(other.Looks)
                && one.Stages.SequenceEqual(other.Stages) && one.Losses.SequenceEqual(other.Losses)
                && one.Wettings.SequenceEqual(other.Wettings) && one.Photos.SequenceEqual(other.Photos));
    }

    // Lists are compared entry by entry; whatever else a batch has or will have, the compiler compares.
    private static Batch Bare(Batch batch) =>
        batch with { Stays = Array.Empty<Stay>(), Looks = Array.Empty<Look>(), Stages = Array.Empty<Stage>(),
            Losses = Array.Empty<Loss>(), Wettings = Array.Empty<NodaTime.Instant>(), Photos = Array.Empty<BatchPhoto>() };
}

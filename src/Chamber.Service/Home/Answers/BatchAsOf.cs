using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>A batch as it was known at a moment: without later looks, moves and its end.</summary>
internal static class BatchAsOf
{
    /// <summary>Null before it was sown.</summary>
    public static Batch? Of(Batch batch, Instant at) => at < batch.SownAt ? null : batch with
    {
        Looks = [.. batch.Looks.Where(look => look.At <= at)],
        Stays = [.. batch.Stays.Where(stay => !stay.When.HasStart || stay.When.Start <= at)
            .Select(stay => stay.When.HasEnd && stay.When.End > at ? stay with { When = new(stay.When.Start, null) } : stay)],
        EndedAt = batch.EndedAt is { } ended && ended <= at ? ended : null,
    };
}

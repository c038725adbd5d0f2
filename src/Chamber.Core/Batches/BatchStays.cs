using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>Where a batch stands, until it ends: the rules of that, as <see cref="BatchRules"/>.</summary>
public static class BatchStays
{
    /// <summary>It stood, or stands, on a spot: on one at a time.</summary>
    public static Batch Placed(Batch batch, Stay stay)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(stay);
        BatchRules.Refuse(!stay.When.HasStart, $"A stay needs a start.");
        BatchRules.RequireTime(batch, stay.When.Start);
        var other = batch.Stays.FirstOrDefault(known => Overlap(known.When, stay.When));
        BatchRules.Refuse(other is not null, $"Batch \"{batch.Id}\" stood on \"{other?.Spot}\" then; a batch is on one spot at a time.",
            "spot");
        return batch with { Stays = BatchRules.Sorted(batch.Stays, stay, one => one.When.Start) };
    }

    /// <summary>It is on another spot from a moment on; where it was before ends then.</summary>
    public static Batch Moved(Batch batch, SpotId spot, Instant at)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var isThere = batch.Stays is [.., { When.HasEnd: false } last] && last.Spot == spot;
        BatchRules.Refuse(isThere, $"Batch \"{batch.Id}\" is on \"{spot}\" already.", "spot");
        BatchRules.RequireTime(batch, at);
        return Placed(Left(batch, at), new(spot, new(at, null)));
    }

    /// <summary>It is planted out, potted up or given up: nothing is watched after that.</summary>
    public static Batch Ended(Batch batch, Instant at)
    {
        BatchRules.RequireTime(batch, at);
        var last = batch.Looks.Select(look => look.At)
            .Concat(batch.Stages.Select(stage => stage.At))
            .Concat(batch.Losses.Select(loss => loss.At))
            .DefaultIfEmpty(batch.SownAt).Max();
        BatchRules.Refuse(at < last, $"Something was recorded for batch \"{batch.Id}\" at {last}; it can only end after that.", "at");
        return Left(batch, at) with { EndedAt = at };
    }

    /// <summary>Takes back that it ended; its last stay goes on.</summary>
    public static Batch Reopened(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        BatchRules.Refuse(batch.EndedAt is null, $"Batch \"{batch.Id}\" has not ended.");
        var stays = batch.Stays.Select(stay => IsLast(stay) ? stay with { When = new(stay.When.Start, null) } : stay);
        return batch with { EndedAt = null, Stays = [.. stays] };

        bool IsLast(Stay stay) => stay.When.HasEnd && stay.When.End == batch.EndedAt;
    }

    private static Batch Left(Batch batch, Instant at)
    {
        if (batch.Stays is not [.., { When.HasEnd: false } last])
        {
            return batch;
        }

        BatchRules.Refuse(
            at <= last.When.Start,
            $"Batch \"{batch.Id}\" was put on \"{last.Spot}\" at {last.When.Start}; it can only leave after that.",
            "at");
        return batch with { Stays = [.. batch.Stays.SkipLast(1), last with { When = new(last.When.Start, at) }] };
    }

    private static bool Overlap(Interval one, Interval other) =>
        (!other.HasEnd || one.Start < other.End) && (!one.HasEnd || one.End > other.Start);
}

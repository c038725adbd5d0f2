using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>When the first seed came up, as far as looking can tell: after one moment, at or before another.</summary>
/// <param name="After">The last look without, or the sowing.</param>
/// <param name="By">The first look with; null while nothing is up.</param>
public sealed record FirstSeen(Instant After, Instant? By)
{
    public static FirstSeen Of(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var by = batch.Looks.FirstOrDefault(look => look.Up > 0)?.At;
        var after = batch.Looks.LastOrDefault(look => look.Up == 0 && (by is null || look.At < by))?.At;
        return new(after ?? batch.SownAt, by);
    }

    /// <summary>Days since the sowing, ends of the interval.</summary>
    public (double After, double? By) Days(Instant sownAt) => ((After - sownAt).TotalDays, (By - sownAt)?.TotalDays);
}

using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>A count of good seedlings out of so many seeds, in its own test: on a towel at home, or reported by somebody else.</summary>
/// <param name="Lot">Which lot was tested.</param>
/// <param name="StartedAt">When the seeds were wetted.</param>
/// <param name="CalledAt">When it was called; null while it runs.</param>
/// <param name="Seeds">How many seeds, at least 1.</param>
/// <param name="Good">How many gave a healthy root and shoot; 0 to <paramref name="Seeds"/>.</param>
/// <param name="Fair">Whether the conditions were fair to the seed; an unfair test says nothing against a lot.</param>
/// <param name="Batch">The batch it was run as, when it was; its seeds are then counted there and not here.</param>
/// <param name="Note">What else was seen, or null.</param>
public sealed record LotTest(
    LotId Lot,
    Instant StartedAt,
    Instant? CalledAt,
    int Seeds,
    int Good,
    bool Fair = true,
    BatchId? Batch = null,
    string? Note = null);

using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Forwarding;

/// <summary>How far the club is behind, from the ledger: whichever process sends.</summary>
/// <param name="Target">Which home at which broker.</param>
/// <param name="Unsent">Readings that it has not got yet.</param>
/// <param name="Behind">How old the oldest of them is; null when there is none.</param>
/// <param name="Sent">Readings that it has confirmed since the beginning, those that were sent again too.</param>
/// <param name="SentAt">When it confirmed some last.</param>
/// <param name="IsSending">Whether a process is at it now.</param>
internal sealed record ForwardStatus(string Target, long Unsent, Duration? Behind, long Sent, Instant? SentAt, bool IsSending)
{
    public bool IsUpToDate => Unsent == 0;

    public static ForwardStatus Of(ChamberStore store, ForwardCursor cursor, Instant now, bool isSending)
    {
        var (rows, oldest) = store.Journal.Unread(cursor.Mark());
        return new(cursor.Target, rows, oldest is { } first ? Duration.Max(Duration.Zero, now - first) : null, cursor.Sent,
            cursor.SentAt is { } at ? Instant.FromUnixTimeMilliseconds(at) : null, isSending);
    }
}

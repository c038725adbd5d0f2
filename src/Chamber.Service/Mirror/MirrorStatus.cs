using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>How far the mirror is behind, from the ledger: whichever process sends.</summary>
/// <param name="Target">Which copy.</param>
/// <param name="Unsent">Rows of the journal that it has not got yet.</param>
/// <param name="Behind">How old the oldest of them is; null when there is none.</param>
/// <param name="Hours">So many hours of warm-hours, suitability and forecasts are still to be sent.</param>
/// <param name="SentLines">Lines it has taken since the beginning.</param>
/// <param name="SetAside">Lines it refused for good.</param>
/// <param name="SentAt">When it took something last.</param>
/// <param name="IsSending">Whether a process is at it now.</param>
internal sealed record MirrorStatus(string Target, long Unsent, Duration? Behind, long Hours, long SentLines, long SetAside,
    Instant? SentAt, bool IsSending)
{
    public bool IsUpToDate => Unsent == 0 && Hours == 0;

    public static MirrorStatus Of(ChamberStore store, MirrorCursor cursor, Instant now, bool isSending)
    {
        var (rows, oldest) = store.Journal.Unread(cursor.Mark());
        return new(
            cursor.Target,
            rows,
            oldest is { } first ? Duration.Max(Duration.Zero, now - first) : null,
            UnsentHours.Remaining(store, cursor, now),
            cursor.Sent,
            cursor.SetAside,
            cursor.SentAt is { } at ? Instant.FromUnixTimeMilliseconds(at) : null,
            isSending);
    }
}

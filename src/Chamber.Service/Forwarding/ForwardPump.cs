using Chamber.Mqtt.Forwarding;
using Chamber.Service.Configuration;
using Chamber.Service.Mirror;
using Chamber.Storage;
using Chamber.Storage.Moving;
using NodaTime;

namespace Chamber.Service.Forwarding;

/// <summary>How far the club has the readings of this home.</summary>
internal sealed record ForwardCursor : ReadingCursor
{
    private const string Setting = "club.cursor";

    public static ForwardCursor Load(ChamberStore store, string target) => Load<ForwardCursor>(store, Setting, target);

    public void Save(ChamberStore store) => Save<ForwardCursor>(store, Setting);
}

/// <summary>
/// Takes what the club has not got yet out of the journal, sends it in packets, and notes in the ledger how far it has come once the club
/// has said that it has them. One at a time: whoever pumps holds a <see cref="SendingHold"/>.
/// </summary>
internal sealed class ForwardPump(ChamberStore store, ClubSettings club, ClubConnection connection, TimeProvider clock)
{
    // About 130 letters a reading: a packet stays far under the club's bound, and a step is soon sent again.
    private const int PacketReadings = 200;
    private const int StepReadings = 10 * PacketReadings;

    private readonly UnsentReadings readings = new(store.Journal);

    public ForwardCursor Cursor { get; private set; } = ForwardCursor.Load(store, club.Target());

    /// <summary>Whether the last step left anything to do.</summary>
    public bool HasMore { get; private set; }

    public async Task<PumpStep> StepAsync(CancellationToken cancel)
    {
        var (unsent, then) = readings.Next(Cursor, StepReadings);
        if (unsent.Count > 0)
        {
            if (await connection.SendAsync([.. unsent.Chunk(PacketReadings).Select(ReadingLines.Write)], cancel) is { } trouble)
            {
                return new(0, trouble, null, []);
            }

            then = then with
            {
                Sent = then.Sent + unsent.Count, SentAt = Instant.FromDateTimeOffset(clock.GetUtcNow()).ToUnixTimeMilliseconds(),
            };
        }

        HasMore = !then.IsAsFarAs(Cursor);
        if (HasMore)
        {
            then.Save(store);
        }

        Cursor = then;
        return new(unsent.Count, null, null, []);
    }
}

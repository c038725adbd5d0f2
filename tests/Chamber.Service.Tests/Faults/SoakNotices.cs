using System.Globalization;
using System.Text.Json;
using Chamber.Service.Notify;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// What docs/notices.md says of waits and of giving up, looked at after every turn of a <see cref="SoakHome"/>, in the time that it is and
/// not in that of its clock: no notice waits longer than the longest wait once its channel is back, none is tried again sooner than its
/// wait, and none is given up before all its tries.
/// </summary>
internal sealed class SoakNotices(SoakHome home)
{
    private const int TriesMax = 14;
    private static readonly Duration FirstWait = Duration.FromMinutes(1);
    private static readonly Duration LongestWait = Duration.FromHours(6);
    private static readonly Duration LongestWithSpread = LongestWait * 1.25;

    // All waits but the last, without what is added at random.
    private static readonly Duration LeastToGiveUp =
        Enumerable.Range(1, TriesMax - 1).Aggregate(Duration.Zero, (sum, tries) => sum + Wait(tries));

    // From one turn to the next.
    private static readonly Duration Turn = Duration.FromMinutes(11);

    private readonly Dictionary<string, Tries> tries = [];
    private readonly HashSet<string> givenUp = [];
    private readonly HashSet<string> over = [];
    private readonly List<(string Notice, Instant At)> dangers = [];

    // Said at the end of the turn: whatever a channel throws is taken for a fault of the channel.
    private readonly List<string> broken = [];
    private Instant disturbed = Instant.MinValue;

    /// <summary>Notices that were given up.</summary>
    public IReadOnlyCollection<string> GivenUp => givenUp;

    /// <summary>What first said that there is a danger, and when a channel was first handed it.</summary>
    public IReadOnlyList<(string Notice, Instant At)> Dangers => dangers;

    /// <summary>A channel is handed a notice.</summary>
    public void Tried(Notice notice)
    {
        if (!tries.ContainsKey(notice.Id))
        {
            Begin(notice);
        }

        Again(notice.Id);
    }

    private void Begin(Notice notice)
    {
        var (alert, what) = notice.Id.Split('-', 3) is ["alert", var number, var rest] ? (number, rest) : ("", "");
        if (what == "over")
        {
            over.Add(alert);
        }

        if (notice.Urgency == NoticeUrgency.Hazard)
        {
            // With the clock put back into it, and nothing heard since, it is told once more rather than not at all.
            if (over.Contains(alert) && home.HeardAt > home.ClockSetAt)
            {
                broken.Add($"{notice.Id} is told after it was told to be over.");
            }

            if (what is "opened" or "missed")
            {
                dangers.Add((notice.Id, home.TrueTime));
            }
        }
    }

    private void Again(string notice)
    {
        var now = home.TrueTime;
        if (!tries.TryGetValue(notice, out var last))
        {
            tries[notice] = new(now, now, 1, !home.DiskIsFull);
            return;
        }

        var waited = now - last.At;
        if (last.AreAllNoted && home.ClockSetAt <= last.At && waited < Wait(last.Count))
        {
            broken.Add($"{notice} was tried again after {Text(waited)}, and not after {Text(Wait(last.Count))}.");
        }

        tries[notice] = last with { At = now, Count = last.Count + 1, AreAllNoted = last.AreAllNoted && !home.DiskIsFull };
    }

    /// <summary>A turn has ended.</summary>
    public void Look()
    {
        Assert.Empty(broken);
        if (!home.ChannelIsThere || home.DiskIsFull || home.HasFailed)
        {
            disturbed = home.TrueTime;
        }

        var well = home.TrueTime - Instant.Max(disturbed, home.ClockSetAt);
        if (well > LongestWithSpread + Turn && home.Store.Ledger.Notices.Waiting() is [var left, ..])
        {
            Assert.Fail($"{NameOf(left)} still waits {Text(well)} after its channel was back.");
        }

        foreach (var dead in home.Store.Ledger.Notices.Dead())
        {
            LookAtGivenUp(NameOf(dead), dead);
        }
    }

    private void LookAtGivenUp(string notice, QueuedNotice dead)
    {
        if (givenUp.Add(notice))
        {
            Assert.Equal((TriesMax, "nobody there"), (dead.Attempts, dead.Error));
            var first = tries[notice].First;
            Assert.True(home.ClockSetAt > first || home.TrueTime - first >= LeastToGiveUp,
                $"{notice} was given up {Text(home.TrueTime - first)} after the first try, before {Text(LeastToGiveUp)}.");
        }
    }

    private static Duration Wait(int tries) => Duration.Min(LongestWait, FirstWait * (1 << (tries - 1)));

    private static string NameOf(QueuedNotice notice) => JsonSerializer.Deserialize<NoticePayload>(notice.Payload)!.Id;

    private static string Text(Duration length) => length.ToString("H:mm:ss", CultureInfo.InvariantCulture);

    /// <param name="First">When it was tried first.</param>
    /// <param name="At">When it was tried last.</param>
    /// <param name="Count">How often.</param>
    /// <param name="AreAllNoted">Whether the ledger could be written each time.</param>
    private sealed record Tries(Instant First, Instant At, int Count, bool AreAllNoted);
}

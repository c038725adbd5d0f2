using Chamber.Mqtt.Intake;
using Chamber.Service.Notify;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Health;

/// <summary>How the service itself is. A number is null when the data file cannot say it.</summary>
/// <param name="Live">The watch comes round.</param>
/// <param name="Ready">It also watches everything: the past is folded, the broker connected, the ledger written.</param>
/// <param name="Trouble">What is in the way, with the fix; null when nothing is.</param>
/// <param name="LastReadingAt">When the last reading arrived; null when none ever did.</param>
/// <param name="OpenAlerts">How many alerts are open.</param>
/// <param name="WaitingNotices">How many notices wait to be sent.</param>
/// <param name="GivenUpNotices">How many were given up.</param>
/// <param name="Mirror">How far the mirror is behind; null where there is none. A mirror that is away does not make the service less
/// ready.</param>
/// <param name="Club">The same of the club.</param>
internal sealed record HealthReport(bool Live, bool Ready, string? Trouble, Instant? LastReadingAt, int? OpenAlerts, int? WaitingNotices,
    int? GivenUpNotices, CopyHealth? Mirror = null, CopyHealth? Club = null);

/// <summary>What every page says on top, with the fix; null when all is well.</summary>
internal delegate string? PageTrouble();

/// <summary>Asks the parts of the service how they are.</summary>
internal sealed class ServiceHealth(WatchPulse pulse, Func<BrokerState> broker, IntakeMetrics intake, ChamberStore store,
    CopiesHealth copies, BrokenParts broken, HomeClock clock, FileTroubles files)
{
    public bool IsLive => pulse.IsAlive;

    /// <summary>Live, and nothing keeps it from watching everything. Costs no look into the file.</summary>
    public bool IsReady => IsLive && pulse.IsReady && InTheWay is null;

    /// <summary>The data file cannot be written, or holds what cannot be right, or the clock is wrong; null when all is well.</summary>
    public HomeTrouble? OfHome => NotStored is { } problem ? new("I am not watching: nothing can be stored", problem)
        : store.Damage is { } damage ? new("The data file is damaged", damage)
        : clock.Trouble ?? files.Trouble;

    /// <summary>What is in the way, with the fix; null when nothing is. Costs no look into the file.</summary>
    public string? Trouble => InTheWay ?? AsideOf;

    // What is wrong and keeps nobody from watching.
    private string? AsideOf => files.Trouble is { } trouble ? $"{trouble.Title}. {trouble.What}" : clock.Stepped;

    private string? InTheWay =>
        NotStored is { } problem ? $"Nothing can be stored, so nothing is watched; what sensors send waits with them. {problem}"
        : store.Damage is { } damage ? $"A part of the data file cannot be read, so something may be missing here and in alerts. {damage}"
        : broken.Now is [var part, ..] parts ? $"A part of the service ({string.Join(", ", parts.Select(one => one.Part))}) was stopped by "
            + $"a fault and is started again by itself; if this stays, restart the service and look at its log. {part.Problem}"
        : !pulse.IsAlive ? "The watch does not come round: restart the service, and look at its log."
        : broker() is { IsConnected: false } away ? away.Fault ?? "The broker is not connected."
        : clock.Trouble?.What;

    private string? NotStored => intake.LastFailure ?? pulse.Trouble;

    public HealthReport Report()
    {
        var latest = Ask(() => store.Journal.Latest(Instant.MaxValue).Select(reading => (Instant?)reading.ReceivedAt).Max());
        var open = Ask(() => (int?)store.Ledger.Alerts.Open().Count);
        var waiting = Ask(() => (int?)store.Ledger.Notices.Waiting(NoticeOutbox.WaitingMax).Count);
        var dead = Ask(() => (int?)store.Ledger.Notices.Dead(NoticeOutbox.DeadMax).Count);
        var (mirror, club) = (Ask(copies.Mirror), Ask(copies.Club));

        // Only now: what was just asked may have met the trouble.
        var inTheWay = InTheWay ?? (pulse.IsReady ? null : "The past is still being folded again after the start.");
        return new(IsLive, IsLive && inTheWay is null, inTheWay ?? AsideOf, latest, open, waiting, dead, mirror, club);
    }

    private static T? Ask<T>(Func<T?> ask)
    {
        try
        {
            return ask();
        }
        catch (StoreException)
        {
            return default;
        }
    }
}

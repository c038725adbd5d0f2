using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>How the service itself is.</summary>
/// <param name="Live">The watch comes round.</param>
/// <param name="Ready">It also watches everything: the past is folded, the broker connected, the ledger written.</param>
/// <param name="Trouble">What is in the way, with the mend; null when nothing is.</param>
/// <param name="LastReadingAt">When the last reading arrived; null when none ever did.</param>
/// <param name="OpenAlerts">How many alerts are open.</param>
/// <param name="WaitingNotices">How many notices wait to be sent.</param>
/// <param name="GivenUpNotices">How many were given up.</param>
/// <param name="Mirror">How far the mirror is behind; null where there is none. A mirror that is away does not make the service less ready.</param>
internal sealed record HealthReport(bool Live, bool Ready, string? Trouble, Instant? LastReadingAt, int OpenAlerts, int WaitingNotices, int GivenUpNotices, MirrorHealth? Mirror = null);

/// <summary>Asks the parts of the service how they are.</summary>
internal sealed class ServiceHealth(Pulse pulse, BrokerWorker broker, Intake intake, ChamberStore store, IEnumerable<MirrorWorker> mirrors)
{
    public bool IsLive => pulse.IsAlive;

    /// <summary>Why nothing can be stored, and so nothing is watched, in one sentence with the mend; null when all is well.</summary>
    public string? NotStored => intake.Readings.Metrics.LastFailure ?? pulse.Trouble;

    /// <summary>What is in the way, with the mend; null when nothing is. Costs no look into the file.</summary>
    public string? Trouble =>
        !pulse.IsAlive ? "The watch does not come round: restart the service, and look at its log."
        : NotStored is { } problem ? $"Nothing can be stored, so nothing is watched; what sensors send waits with them. {problem}"
        : !broker.IsConnected ? broker.Fault ?? "The broker is not connected."
        : null;

    public HealthReport Report()
    {
        var trouble = Trouble ?? (pulse.IsReady ? null : "The past is still being folded again after the start.");
        try
        {
            var latest = store.Journal.Latest().Select(reading => reading.ReceivedAt).DefaultIfEmpty(Instant.MinValue).Max();
            return new(
                IsLive,
                IsLive && trouble is null,
                trouble,
                latest == Instant.MinValue ? null : latest,
                store.Ledger.Alerts.Open().Count,
                store.Ledger.Notices.Waiting(NoticeOutbox.WaitingMax).Count,
                store.Ledger.Notices.Dead(NoticeOutbox.DeadMax).Count,
                mirrors.FirstOrDefault()?.Health());
        }
        catch (StoreException problem)
        {
            return new(IsLive, Ready: false, trouble ?? problem.Message, LastReadingAt: null, 0, 0, 0);
        }
    }
}

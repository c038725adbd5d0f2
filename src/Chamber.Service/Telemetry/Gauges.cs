using System.Diagnostics.Metrics;
using Chamber.Core.Climate;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Intake;
using Chamber.Service.Configuration;
using Chamber.Service.Mirror;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Telemetry;

/// <summary>What the running service counts anyway, given when somebody asks: nothing is done for it in between.</summary>
internal sealed class Gauges : IDisposable
{
    private readonly Meter meter = new(Signals.Name);
    private readonly IntakeMetrics intake;
    private readonly ChamberStore store;
    private readonly Settings settings;
    private readonly TimeProvider clock;
    private (MirrorStatus? Status, Instant At) lately;

    public Gauges(IntakeMetrics intake, BrokerMetrics? broker, ChamberStore store, Settings settings, TimeProvider clock,
        Func<bool> isReady)
    {
        if (broker is not null)
        {
            meter.CreateObservableCounter("chamber.broker.refused",
                () => broker.Refused.Select(bound => new Measurement<long>(
                    bound.Value, new KeyValuePair<string, object?>("bound", bound.Key))),
                "{refusal}", "What the own broker refused, by bound.");
        }

        (this.intake, this.store, this.settings, this.clock) = (intake, store, settings, clock);
        AddIntake();
        AddState();
        meter.CreateObservableGauge("chamber.ready", () => isReady() ? 1 : 0, null,
            "1 while everything is watched, as /health/ready says it, else 0.");
        ProcessGauges.Add(meter);
        new ProbeGauges(store, clock).Add(meter);
        if (settings.Mirror is not null)
        {
            AddMirror(settings.Mirror);
        }
    }

    public void Dispose() => meter.Dispose();

    private void AddIntake()
    {
        meter.CreateObservableCounter("chamber.messages.received", () => intake.Received, "{message}", "Messages that arrived.");
        meter.CreateObservableCounter("chamber.messages.committed", () => intake.Committed, "{message}",
            "Messages whose readings and refusals are stored.");
        meter.CreateObservableCounter("chamber.readings", () => intake.Readings, "{reading}", "Readings that came out of the messages.");
        meter.CreateObservableCounter("chamber.refusals", Refusals, "{refusal}", "What was not used, by reason.");
        meter.CreateObservableCounter("chamber.commits", () => intake.Batches, "{commit}", "Commits that went well.");
        meter.CreateObservableCounter("chamber.commit.failures", () => intake.CommitFailures, "{commit}",
            "Commits that failed and were tried again.");
        meter.CreateObservableGauge("chamber.queue.length", () => intake.QueueLength, "{message}", "Messages that wait to be decoded.");
        meter.CreateObservableGauge("chamber.queue.limit", () => settings.Limits.QueuedMessages, "{message}",
            "So many may wait; further ones wait at their sender.");
    }

    private void AddState()
    {
        meter.CreateObservableGauge("chamber.alerts.open", OpenAlerts, "{alert}", "Alerts that are open, by severity.");
        meter.CreateObservableGauge("chamber.notices.waiting", () => store.Ledger.Notices.Waiting(NoticeOutbox.WaitingMax).Count,
            "{notice}", "Notices that wait to be sent.");
        meter.CreateObservableGauge("chamber.notices.dead", () => store.Ledger.Notices.Dead(NoticeOutbox.DeadMax).Count, "{notice}",
            "Notices that were given up.");
        meter.CreateObservableGauge("chamber.database.size", () => new FileInfo(store.Path).Length, "By", "The data file.");
    }

    private void AddMirror(MirrorSettings mirror)
    {
        meter.CreateObservableGauge("chamber.mirror.lag", () => Status(mirror).Behind?.TotalSeconds ?? 0, "s",
            "How old the oldest reading is that the mirror has not got.");
        meter.CreateObservableGauge("chamber.mirror.unsent", () => Status(mirror).Unsent, "{reading}",
            "Readings that the mirror has not got.");
        meter.CreateObservableCounter("chamber.mirror.sent", () => Status(mirror).SentLines, "{line}",
            "Lines that the mirror has taken, ever.");
        meter.CreateObservableCounter("chamber.mirror.refused", () => Status(mirror).SetAside, "{line}",
            "Lines that it refused for good, ever.");
    }

    // One reading of the ledger for all that one scrape asks.
    private MirrorStatus Status(MirrorSettings mirror)
    {
        var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
        lock (meter)
        {
            if (lately.Status is not { } known || now - lately.At > Duration.FromSeconds(1))
            {
                known = MirrorStatus.Of(store, MirrorCursor.Load(store, mirror.Target()), now, isSending: true);
                lately = (known, now);
            }

            return known;
        }
    }

    private IEnumerable<Measurement<long>> Refusals() =>
        Enum.GetValues<RefusalReason>()
            .Select(reason => new Measurement<long>(intake.Refused.GetValueOrDefault(reason),
            new KeyValuePair<string, object?>("reason", Choice.Word(reason))));

    private IEnumerable<Measurement<int>> OpenAlerts()
    {
        var open = store.Ledger.Alerts.Open();
        return Enum.GetValues<Core.Alerts.Severity>().Select(severity => new Measurement<int>(
            open.Count(alert => alert.Severity == severity),
                new KeyValuePair<string, object?>("severity", Choice.Word(severity))));
    }
}

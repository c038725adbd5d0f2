using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Notices;
using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>What becomes of an alert: recorded, written to the log, published, and sent to people. Belongs to the thread of the
/// watch.</summary>
internal sealed class AlertDesk(ChamberStore store, RetainedAlerts retained, NoticeDesk notices, Settings settings, SettingsInForce inForce,
    ILogger<AlertDesk> logger)
{
    private readonly List<(long Number, Alert Alert)> known = [];

    // What the log is to say once all that has come in is folded: after days of history at once, only what is still open is worth a line.
    private readonly List<(Alert Alert, bool IsNew)> unsaid = [];
    private int passed;

    /// <summary>The alerts reported before a restart: those open, and those closed not long ago.</summary>
    public IReadOnlyList<Alert> Load(Instant since)
    {
        known.Clear();
        foreach (var entry in store.Ledger.Alerts.OpenOrClosedSince(since))
        {
            if (AlertRecords.ToAlert(entry) is { } alert)
            {
                known.Add((entry.Number, alert));
            }
        }

        return [.. known.Select(pair => pair.Alert)];
    }

    /// <summary>Publishes what is open, after a start.</summary>
    public void PublishOpen(HomeFacts facts)
    {
        foreach (var (_, alert) in known.Where(pair => pair.Alert.IsOpen))
        {
            retained.Set(alert, Text(alert, facts));
        }
    }

    /// <summary>Takes back what is published as open, before alerts are loaded under other names.</summary>
    public void ClearOpen()
    {
        foreach (var (_, alert) in known.Where(pair => pair.Alert.IsOpen))
        {
            retained.Clear(alert);
        }
    }

    public void Take(WatchEvent happened, HomeFacts facts)
    {
        switch (happened)
        {
            case AlertOpened { Alert: var alert }:
                Write(alert);
                Tell(alert, facts, isNew: true);
                break;
            case AlertAmended { Alert: var alert }:
                Write(alert);
                if (alert.IsOpen)
                {
                    retained.Set(alert, Text(alert, facts));
                }

                break;
            case AlertWorsened { Alert: var alert }:
                Write(alert);
                Tell(alert, facts, isNew: false);
                break;
            case AlertClosed { Alert: var alert }:
                Write(alert);
                Unpublish(alert);
                Close(alert, facts);
                break;
        }
    }

    /// <summary>Says in the log what has opened; of what opened and closed again since the last time, only how many.</summary>
    public void SayOpened(HomeFacts facts)
    {
        foreach (var (alert, _) in unsaid)
        {
            SayOpened(alert, facts);
        }

        if (passed > 0)
        {
            var count = CountText.Of(passed, "alert");
            Log.AlertsPassed(logger, count);
        }

        unsaid.Clear();
        passed = 0;
    }

    /// <summary>Says in the log and on MQTT what cannot be recorded.</summary>
    public void Say(WatchEvent happened, HomeFacts facts)
    {
        switch (happened)
        {
            case AlertOpened { Alert: var alert }:
                Tell(alert, facts, isNew: true);
                break;
            case AlertWorsened { Alert: var alert }:
                Tell(alert, facts, isNew: false);
                break;
            case AlertClosed { Alert: var alert }:
                TakeBack(alert);
                Unpublish(alert);
                break;
        }
    }

    // One that is told only when it is over may lie before another of its kind, which is open.
    private void Unpublish(Alert alert)
    {
        if (!known.Exists(pair => pair.Alert.IsOpen && pair.Alert.Kind == alert.Kind && pair.Alert.Subject == alert.Subject
            && !pair.Alert.IsSameAs(alert)))
        {
            retained.Clear(alert);
        }
    }

    /// <summary>Whether the ledger has an alert of its kind open for its subject.</summary>
    public bool IsOpen(Alert alert) => Number(alert) != 0;

    /// <summary>Notifies people of what is due now, and records it. A crash between the two notifies them twice, under the
    /// same name.</summary>
    public void TellPeople(HomeFacts facts, Instant now)
    {
        var standings = store.Ledger.Alerts.OpenOrClosedSince(now - NoticePolicy.Stale).Select(AlertRecords.ToStanding)
            .OfType<AlertStanding>().ToList();
        var quiet = inForce.QuietHours is { } hours ? new Core.Forecasts.QuietHours(hours.From, hours.To)
            : (Core.Forecasts.QuietHours?)null;
        foreach (var decision in NoticePolicy.Decide(standings, facts, quiet, now))
        {
            notices.Put(decision, Text(decision.Alert, facts));
            store.Ledger.Alerts.Tell(decision.Number, AlertRecords.ToEntry(decision.Notified));
        }
    }

    private void Tell(Alert alert, HomeFacts facts, bool isNew)
    {
        if (Signals.AlertsOpened.Enabled)
        {
            Signals.AlertsOpened.Add(1, new("kind", Choice.Word(alert.Kind)),
                new KeyValuePair<string, object?>("severity", Choice.Word(alert.Severity)));
        }

        unsaid.Add((alert, TakeBack(alert) || isNew));
        if (alert.IsOpen)
        {
            retained.Set(alert, Text(alert, facts));
        }
    }

    // What was over before it was said is only counted; a danger is said all the same, since somebody may have to look what it did.
    private void Close(Alert alert, HomeFacts facts)
    {
        var wasUnsaid = TakeBack(alert);
        if (wasUnsaid && alert.Kind != AlertKind.Hazard)
        {
            passed++;
            return;
        }

        if (wasUnsaid)
        {
            SayOpened(alert, facts);
        }

        Log.AlertClosed(logger, Text(alert, facts).Title, alert.CloseReason ?? CloseReason.Over);
    }

    private void SayOpened(Alert alert, HomeFacts facts)
    {
        var line = Line(alert, Text(alert, facts));
        Log.AlertOpened(logger, alert.Severity >= Severity.Urgent ? LogLevel.Error : LogLevel.Warning, line);
    }

    // Whether nobody has been notified of it yet.
    private bool TakeBack(Alert alert)
    {
        var isNew = unsaid.Exists(one => one.IsNew && one.Alert.IsSameAs(alert));
        unsaid.RemoveAll(one => one.Alert.IsSameAs(alert));
        return isNew;
    }

    // One line: the rest is on the page, by notices and by "chamber alerts".
    private static string Line(Alert alert, AlertText text) => alert switch
    {
        { Severity: >= Severity.Urgent, IsOpen: true } => $"{text.Title}. {text.ToDo}",
        _ => $"{text.Title}. More: chamber alerts",
    };

    private AlertText Text(Alert alert, HomeFacts facts) =>
        ConditionRegistry.InWords(alert, facts, new(settings.Units == TemperatureScale.Fahrenheit, facts.Zone));

    private void Write(Alert alert)
    {
        var at = known.FindLastIndex(pair => pair.Alert.IsSameAs(alert));
        var number = at < 0 ? Number(alert) : known[at].Number;
        number = store.Ledger.Alerts.Save(AlertRecords.ToEntry(alert, number));
        if (at < 0)
        {
            known.Add((number, alert));
        }
        else
        {
            known[at] = (number, alert);
        }

        known.RemoveAll(pair => pair.Alert.ClosedAt is { } closed && alert.OpenedAt - closed > WatchPast.Reach);
    }

    // At most one alert of a kind is open for a subject, so an open one in the ledger is the same one with other edges; one that is over
    // may lie before it.
    private long Number(Alert alert) => store.Ledger.Alerts.Open().FirstOrDefault(entry => entry.Kind == alert.Kind
        && entry.Subject == alert.Subject && (alert.IsOpen || AlertRecords.ToAlert(entry)?.IsSameAs(alert) == true))?.Number ?? 0;
}

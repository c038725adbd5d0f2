using Chamber.Core.Alerts.Conditions;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>Alerts that were opened or closed since the server was last sent any.</summary>
internal sealed class UnsentAlerts(AlertLedger ledger, string? home)
{
    private const int AlertsMax = 500;

    public (IReadOnlyList<string> Lines, MirrorCursor Then) Next(MirrorCursor cursor)
    {
        var lines = new List<string>();
        var open = new List<long>();
        foreach (var alert in cursor.AlertsOpen.Select(ledger.Find).OfType<AlertEntry>())
        {
            Close(alert, lines, open);
        }

        var last = cursor.Alert;
        foreach (var alert in ledger.After(last, AlertsMax))
        {
            lines.Add(Line(alert, alert.OpenedAt, open: 1));
            Close(alert, lines, open);
            last = alert.Number;
        }

        return (lines, cursor with { Alert = last, AlertsOpen = open });
    }

    private void Close(AlertEntry alert, List<string> lines, List<long> open)
    {
        if (alert.ClosedAt is { } at)
        {
            lines.Add(Line(alert, at, open: 0));
        }
        else
        {
            open.Add(alert.Number);
        }
    }

    private string Line(AlertEntry alert, Instant at, double open) => Measurements.Alert.Line(
        home, at,
        [ConditionRegistry.Find(alert.Kind.Name) is { } kind ? Choice.Word(kind) : alert.Kind.Name, Choice.Word(alert.Subject.Kind),
            alert.Subject.Name],
        [open, (int)alert.Severity + 1])!;
}

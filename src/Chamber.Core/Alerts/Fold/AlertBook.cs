using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>The alerts of one location: those open, and the last ones closed.</summary>
internal sealed class AlertBook
{
    /// <summary>Closed alerts kept; older ones are in the ledger.</summary>
    public const int ClosedMax = 64;

    private readonly List<OpenAlert> open = [];
    private readonly Queue<Alert> closed = new();

    public IReadOnlyList<OpenAlert> Open => open;

    public IReadOnlyCollection<Alert> Closed => closed;

    /// <summary>Whether anything was opened, worsened or closed since this was last set to false.</summary>
    public bool Changed { get; set; }

    public OpenAlert? Find(AlertKind kind, AlertSubject subject)
    {
        foreach (var alert in open)
        {
            if (alert.Kind == kind && alert.Subject == subject)
            {
                return alert;
            }
        }

        return null;
    }

    /// <summary>Opens an alert, or lets one more holder keep an open one open.</summary>
    public OpenAlert Raise(AlertKind kind, AlertSubject subject, Severity severity, Moment since, Moment openedAt, string holder)
    {
        var alert = Find(kind, subject);
        if (alert is null)
        {
            alert = new(kind, subject, severity, since, openedAt);
            open.Add(alert);
            Changed = true;
        }
        else
        {
            Changed |= alert.Worsen(severity);
        }

        alert.Hold(holder);
        return alert;
    }

    /// <summary>Goes on with an alert that was opened at another location.</summary>
    public void Adopt(CarriedAlert carried)
    {
        if (Find(carried.Kind, carried.Subject) is null)
        {
            open.Add(OpenAlert.From(carried));
            Changed = true;
        }
    }

    /// <summary>Goes on with an alert that was said before a restart.</summary>
    public void Resume(Alert alert, string holder)
    {
        var resumed = Raise(alert.Kind, alert.Subject, alert.Severity, Moment.Of(alert.Since), Moment.Of(alert.OpenedAt), holder);
        resumed.Probe = alert.Evidence.Probe;
        resumed.LastAt = Moment.Of(alert.Evidence.To);
        foreach (var figure in alert.Evidence.Figures)
        {
            resumed[figure.Name] = figure.Value;
        }
    }

    /// <summary>Drops an open alert that was never said.</summary>
    public void Withdraw(AlertKind kind, AlertSubject subject) => open.RemoveAll(alert => alert.Kind == kind && alert.Subject == subject);

    /// <summary>Takes a holder away from an alert and closes it when none is left.</summary>
    public void Release(AlertKind kind, AlertSubject subject, string holder, Moment at, CloseReason reason,
        Func<OpenAlert, IReadOnlyList<BatchHarm>> harm)
    {
        if (Find(kind, subject) is not { } alert || !alert.IsHeldBy(holder))
        {
            return;
        }

        var harmed = harm(alert);
        alert.LetGo(holder);
        if (alert.Holders.Length > 0)
        {
            return;
        }

        open.Remove(alert);
        closed.Enqueue(alert.ToAlert(harmed, Moment.Later(at, alert.OpenedAt), reason));
        Changed = true;
        if (closed.Count > ClosedMax)
        {
            closed.Dequeue();
        }
    }

    /// <summary>Takes every holder that fits away from every alert: what they stood for is gone.</summary>
    public void ReleaseAll(Predicate<string> holder, Moment at, Func<OpenAlert, IReadOnlyList<BatchHarm>> harm)
    {
        foreach (var alert in open.ToList())
        {
            foreach (var name in alert.Holders.Where(name => holder(name)).ToList())
            {
                Release(alert.Kind, alert.Subject, name, at, CloseReason.Gone, harm);
            }
        }
    }

    /// <summary>Marks an alert worse.</summary>
    public void Worsen(OpenAlert alert, Severity severity) => Changed |= alert.Worsen(severity);

    public AlertBook Copy()
    {
        var copy = new AlertBook { Changed = Changed };
        copy.open.AddRange(open.Select(alert => alert.Copy()));
        foreach (var alert in closed)
        {
            copy.closed.Enqueue(alert);
        }

        return copy;
    }
}

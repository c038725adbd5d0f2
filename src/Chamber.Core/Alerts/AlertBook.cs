using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>An alert while it is open, and what has been seen of it so far.</summary>
internal sealed class OpenAlert(AlertKind kind, AlertSubject subject, Severity severity, long since, long openedAt)
{
    private static readonly int FigureCount = Enum.GetValues<FigureName>().Length;
    private double[] figures = NoFigures();
    private List<string> holders = [];

    public AlertKind Kind { get; } = kind;

    public AlertSubject Subject { get; } = subject;

    public Severity Severity { get; private set; } = severity;

    public long Since { get; } = since;

    public long OpenedAt { get; } = openedAt;

    public ProbeId? Probe { get; set; }

    public ProbeFault Fault { get; set; }

    public CauseKind? Why { get; set; }

    public long LastTicks { get; set; } = openedAt;

    public IReadOnlyList<string> Holders => holders;

    public bool HasHolders => holders.Count > 0;

    public double this[FigureName name]
    {
        get => figures[(int)name];
        set => figures[(int)name] = value;
    }

    public void Hold(string holder)
    {
        if (!holders.Contains(holder))
        {
            holders.Add(holder);
        }
    }

    public void LetGo(string holder) => holders.Remove(holder);

    public bool IsHeldBy(string holder) => holders.Contains(holder);

    public bool Worsen(Severity severity)
    {
        var worse = severity > Severity;
        Severity = worse ? severity : Severity;
        return worse;
    }

    /// <summary>All that makes it different from another one, as text.</summary>
    public string Key => string.Create(
        System.Globalization.CultureInfo.InvariantCulture,
        $"{Kind} {Severity} {Since} {OpenedAt} {LastTicks} {Why} {string.Join(',', figures.Select(figure => figure.ToString("R", System.Globalization.CultureInfo.InvariantCulture)))}");

    public OpenAlert Copy()
    {
        var copy = (OpenAlert)MemberwiseClone();
        copy.figures = [.. figures];
        copy.holders = [.. holders];
        return copy;
    }

    public Alert ToAlert(IReadOnlyList<BatchHarm> harm, long? closedAt, CloseReason? reason)
    {
        var numbers = new List<Figure>();
        for (var i = 0; i < figures.Length; i++)
        {
            if (!double.IsNaN(figures[i]))
            {
                numbers.Add(new((FigureName)i, figures[i]));
            }
        }

        var from = Instant.FromUnixTimeTicks(Since);
        var evidence = new AlertEvidence(Probe, from, Instant.FromUnixTimeTicks(Math.Max(Since, LastTicks)), numbers, Fault) { Why = Why };
        return new(
            Kind, Subject, Severity, from, Instant.FromUnixTimeTicks(OpenedAt),
            closedAt is { } ticks ? Instant.FromUnixTimeTicks(ticks) : null, reason, evidence, harm);
    }

    private static double[] NoFigures()
    {
        var none = new double[FigureCount];
        Array.Fill(none, double.NaN);
        return none;
    }
}

/// <summary>The alerts of one place: those open, and the last ones closed.</summary>
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
    public OpenAlert Raise(AlertKind kind, AlertSubject subject, Severity severity, long since, long openedAt, string holder)
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

    /// <summary>Goes on with an alert that was opened at another place.</summary>
    public void Adopt(OpenAlert alert)
    {
        if (Find(alert.Kind, alert.Subject) is null)
        {
            open.Add(alert.Copy());
            Changed = true;
        }
    }

    /// <summary>Goes on with an alert that was said before a restart.</summary>
    public void Resume(Alert alert, string holder)
    {
        var open = Raise(alert.Kind, alert.Subject, alert.Severity, alert.Since.ToUnixTimeTicks(), alert.OpenedAt.ToUnixTimeTicks(), holder);
        open.Probe = alert.Evidence.Probe;
        open.LastTicks = alert.Evidence.To.ToUnixTimeTicks();
        foreach (var figure in alert.Evidence.Figures)
        {
            open[figure.Name] = figure.Value;
        }
    }

    /// <summary>Drops an open alert that was never said.</summary>
    public void Withdraw(AlertKind kind, AlertSubject subject) => open.RemoveAll(alert => alert.Kind == kind && alert.Subject == subject);

    /// <summary>Takes a holder away from an alert and closes it when none is left.</summary>
    public void Release(AlertKind kind, AlertSubject subject, string holder, long at, CloseReason reason, Func<OpenAlert, IReadOnlyList<BatchHarm>> harm)
    {
        if (Find(kind, subject) is not { } alert || !alert.IsHeldBy(holder))
        {
            return;
        }

        var harmed = harm(alert);
        alert.LetGo(holder);
        if (alert.HasHolders)
        {
            return;
        }

        open.Remove(alert);
        closed.Enqueue(alert.ToAlert(harmed, Math.Max(at, alert.OpenedAt), reason));
        Changed = true;
        if (closed.Count > ClosedMax)
        {
            closed.Dequeue();
        }
    }

    /// <summary>Takes every holder that fits away from every alert: what they stood for is gone.</summary>
    public void ReleaseAll(Predicate<string> holder, long at, Func<OpenAlert, IReadOnlyList<BatchHarm>> harm)
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

using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>An alert while it is open, and what has been seen of it so far. It is held open by one or more holders: a batch, a probe, a
/// sign of a fault.</summary>
internal sealed class OpenAlert(AlertKind kind, AlertSubject subject, Severity severity, Moment since, Moment openedAt)
{
    private static readonly int FigureCount = Enum.GetValues<FigureName>().Length;
    private FigureValues figures;

    public AlertKind Kind { get; } = kind;

    public AlertSubject Subject { get; } = subject;

    public Severity Severity { get; private set; } = severity;

    public Moment Since { get; } = since;

    public Moment OpenedAt { get; } = openedAt;

    public ProbeId? Probe { get; set; }

    public ProbeFault Fault { get; set; }

    public CauseKind? Why { get; set; }

    /// <summary>The last moment that is known of it.</summary>
    public Moment LastAt { get; set; } = openedAt;

    public ImmutableArray<string> Holders { get; private set; } = [];

    /// <summary>A number of its evidence; null where there is none of that name.</summary>
    public double? this[FigureName name]
    {
        get => figures[(int)name];
        set => figures[(int)name] = value;
    }

    public bool IsHeldBy(string holder) => Holders.Contains(holder);

    public void Hold(string holder) => Holders = IsHeldBy(holder) ? Holders : Holders.Add(holder);

    public void LetGo(string holder) => Holders = Holders.Remove(holder);

    /// <summary>Makes it as severe as that, unless it is more so; returns whether it has become worse.</summary>
    public bool Worsen(Severity severity)
    {
        var isWorse = severity > Severity;
        Severity = isWorse ? severity : Severity;
        return isWorse;
    }

    /// <summary>Notes the last temperature, and the hottest so far as the worst.</summary>
    public void NoteHot(in TimedTemperature now)
    {
        var celsius = now.Temperature.Celsius;
        Note(now, this[FigureName.WorstCelsius] is { } worst ? Math.Max(worst, celsius) : celsius);
    }

    /// <summary>The same of cold: the worst is the coldest.</summary>
    public void NoteCold(in TimedTemperature now)
    {
        var celsius = now.Temperature.Celsius;
        Note(now, this[FigureName.WorstCelsius] is { } worst ? Math.Min(worst, celsius) : celsius);
    }

    /// <summary>Notes whose temperature it is, the threshold, and the first worst one. The time is that of the reading, not the moment at
    /// which it had held for long enough.</summary>
    public void Describe(ProbeId probe, in TimedTemperature reading, double limitCelsius)
    {
        var temperature = reading.Temperature;
        Probe ??= probe;
        LastAt = reading.At;
        this[FigureName.LimitCelsius] = limitCelsius;
        this[FigureName.LatestCelsius] = temperature.Celsius;
        this[FigureName.WorstCelsius] ??= temperature.Celsius;
    }

    /// <summary>A copy that is independent: everything in it is a value or does not change.</summary>
    public OpenAlert Copy() => (OpenAlert)MemberwiseClone();

    /// <summary>The same as a value, to be carried to another location and compared.</summary>
    public CarriedAlert ToCarried() =>
        new(Kind, Subject, Severity, Since, OpenedAt, LastAt, Probe, Fault, Why, new(Holders), new([.. Figures()]));

    public static OpenAlert From(CarriedAlert carried)
    {
        var alert = new OpenAlert(carried.Kind, carried.Subject, carried.Severity, carried.Since, carried.OpenedAt)
        {
            LastAt = carried.LastAt,
            Probe = carried.Probe,
            Fault = carried.Fault,
            Why = carried.Why,
            Holders = [.. carried.Holders],
        };
        foreach (var figure in carried.Figures)
        {
            alert[figure.Name] = figure.Value;
        }

        return alert;
    }

    public Alert ToAlert(IReadOnlyList<BatchHarm> harm, Moment? closedAt = null, CloseReason? reason = null)
    {
        var since = Since.ToInstant();
        var evidence = new AlertEvidence(Probe, since, Moment.Later(Since, LastAt).ToInstant(), [.. Figures()], Fault) { Why = Why };
        return new(Kind, Subject, Severity, since, OpenedAt.ToInstant(), closedAt?.ToInstant(), reason, evidence, harm);
    }

    private void Note(in TimedTemperature now, double worstCelsius)
    {
        LastAt = now.At;
        this[FigureName.LatestCelsius] = now.Temperature.Celsius;
        this[FigureName.WorstCelsius] = worstCelsius;
    }

    private IEnumerable<Figure> Figures()
    {
        for (var i = 0; i < FigureCount; i++)
        {
            if (figures[i] is { } value)
            {
                yield return new((FigureName)i, value);
            }
        }
    }

    [InlineArray(16)]
    private struct FigureValues
    {
        private double? first;
    }
}

/// <summary>An open alert as a value.</summary>
internal sealed record CarriedAlert(
    AlertKind Kind,
    AlertSubject Subject,
    Severity Severity,
    Moment Since,
    Moment OpenedAt,
    Moment LastAt,
    ProbeId? Probe,
    ProbeFault Fault,
    CauseKind? Why,
    ValueList<string> Holders,
    ValueList<Figure> Figures);

using Chamber.Core.Alerts.Conditions.FaultyProbe;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Watching;

/// <summary>
/// Tells a faulty probe or a wrong clock by what had to be refused. Refusals have no time of measurement, so that they count in their order
/// of arrival.
/// </summary>
internal sealed class RefusalFold(ConditionSet conditions)
{
    /// <summary>Probes that nobody has set up are kept count of up to so many faults; more are counted in <see cref="Dropped"/>.</summary>
    public const int StrangerMax = 512;

    private readonly IReadOnlyList<(AlertKind Kind, RefusalRule Rule)> rules =
        [.. conditions.SelectMany(condition => condition.Refusals.Select(rule => (condition.Kind, rule)))];
    private readonly Dictionary<(ProbeId Probe, RefusalRule Rule), Refused> faults = [];
    private readonly AlertBook book = new();
    private HashSet<ProbeId> setUp = [];

    /// <summary>What was reported so far.</summary>
    public List<Alert> Reported { get; } = [];

    public long Dropped { get; private set; }

    /// <summary>Whether there is no alert, neither open nor closed lately.</summary>
    public bool IsEmpty => book.Open.Count == 0 && book.Closed.Count == 0;

    public IEnumerable<Alert> Alerts() => book.Closed.Concat(book.Open.Select(alert => alert.ToAlert([])));

    /// <summary>Probes that were set up are always kept count of: made-up names must not hide a fault of one.</summary>
    public void Know(IEnumerable<ProbeId> probes) => setUp = [.. probes];

    /// <summary>Whether an alert is one of those that show in what is refused.</summary>
    public bool IsOfRefusals(Alert alert) => RuleOf(alert) is not null;

    /// <summary>Goes on with what was reported before a restart: what is open stays so until it has not come again for long
    /// enough.</summary>
    public void Resume(IEnumerable<Alert> stored)
    {
        foreach (var alert in stored)
        {
            Reported.Add(alert);
            if (alert is { IsOpen: true, Evidence.Probe: { } probe } && RuleOf(alert) is { } rule)
            {
                var last = Moment.Of(alert.Evidence.To);
                Raise(alert.Kind, probe, rule, Moment.Of(alert.Since), Moment.Of(alert.OpenedAt), last);
                faults[(probe, rule)] = new() { Last = last };
            }
        }
    }

    public void Take(Refusal refusal)
    {
        if (refusal.Probe is not { } probe
            || rules.FirstOrDefault(known => known.Rule.Reasons.Contains(refusal.Reason)) is not { Rule: { } rule, Kind: var kind })
        {
            return;
        }

        if (!faults.TryGetValue((probe, rule), out var known))
        {
            if (faults.Count >= StrangerMax && !setUp.Contains(probe))
            {
                Dropped++;
                return;
            }

            faults[(probe, rule)] = known = new();
        }

        var at = Moment.Of(refusal.ReceivedAt);
        known.Last = Moment.Later(known.Last, at);
        if (known.Times.Add(at, FaultyProbeLimits.FaultCount, rule.Span.ToTimeSpan()))
        {
            Raise(kind, probe, rule, at, at, at);
        }
    }

    /// <summary>Closes what has not come again for long enough.</summary>
    public void Advance(Instant now)
    {
        var at = Moment.Of(now);
        foreach (var ((probe, rule), known) in faults.ToList())
        {
            var end = known.Last + rule.Clear.ToTimeSpan();
            if (at >= end)
            {
                book.Release(rules.First(one => one.Rule == rule).Kind, AlertSubject.Of(probe), rule.Fault.ToString(), end,
                    CloseReason.Over, _ => []);
                faults.Remove((probe, rule));
            }
        }
    }

    private RefusalRule? RuleOf(Alert alert) =>
        rules.FirstOrDefault(known => known.Kind == alert.Kind && known.Rule.Fault == alert.Evidence.Fault).Rule;

    private void Raise(AlertKind kind, ProbeId probe, RefusalRule rule, Moment since, Moment openedAt, Moment last)
    {
        var alert = book.Raise(kind, AlertSubject.Of(probe), rule.Severity, since, openedAt, rule.Fault.ToString());
        alert.Probe = probe;
        alert.Fault = alert.Fault == ProbeFault.None ? rule.Fault : alert.Fault;
        alert.LastAt = Moment.Later(alert.LastAt, last);
    }

    private sealed class Refused
    {
        public FaultTimes Times;

        /// <summary>When it came last.</summary>
        public Moment Last { get; set; }
    }
}

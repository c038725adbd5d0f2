using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// Tells a faulty probe or a wrong clock by what had to be refused. Refusals have no time of measurement, so that they count in their order of arrival.
/// </summary>
internal sealed class RefusalFold(WatchLimits limits)
{
    /// <summary>Probes that nobody has set up are kept count of up to so many faults; more are counted in <see cref="Dropped"/>.</summary>
    public const int StrangerMax = 512;

    private static readonly Duration FaultSpan = Duration.FromHours(1);
    private static readonly Duration FaultClear = Duration.FromHours(6);
    private static readonly Duration ClockSpan = Duration.FromHours(24);

    private readonly Dictionary<(ProbeId Probe, ProbeFault Fault), Refused> faults = [];
    private readonly AlertBook book = new();
    private HashSet<ProbeId> setUp = [];

    public List<Alert> Told { get; } = [];

    public long Dropped { get; private set; }

    public IEnumerable<Alert> Alerts() => book.Closed.Concat(book.Open.Select(alert => alert.ToAlert([], null, null)));

    /// <summary>Probes that were set up are always kept count of: made-up names must not hide a fault of one.</summary>
    public void Know(IEnumerable<ProbeId> probes) => setUp = [.. probes];

    /// <summary>Goes on with what was said before a restart: what is open stays so until it has not come again for long enough.</summary>
    public void Resume(IEnumerable<Alert> stored)
    {
        foreach (var alert in stored)
        {
            Told.Add(alert);
            if (!alert.IsOpen || alert.Evidence.Probe is not { } probe || alert.Evidence.Fault == ProbeFault.None)
            {
                continue;
            }

            Raise(probe, alert.Evidence.Fault, alert.Since.ToUnixTimeTicks(), alert.OpenedAt.ToUnixTimeTicks(), alert.Evidence.To.ToUnixTimeTicks());
            faults[(probe, alert.Evidence.Fault)] = new() { Last = alert.Evidence.To.ToUnixTimeTicks() };
        }
    }

    public void Take(Refusal refusal)
    {
        if (refusal.Probe is not { } probe || KindOf(refusal.Reason) is not { } fault)
        {
            return;
        }

        if (!faults.TryGetValue((probe, fault), out var known))
        {
            if (faults.Count >= StrangerMax && !setUp.Contains(probe))
            {
                Dropped++;
                return;
            }

            faults[(probe, fault)] = known = new();
        }

        var at = refusal.ReceivedAt.ToUnixTimeTicks();
        known.Last = Math.Max(known.Last, at);
        if (known.Times.Add(at, limits.FaultCount, (IsClock(fault) ? ClockSpan : FaultSpan).BclCompatibleTicks))
        {
            Raise(probe, fault, at, at, at);
        }
    }

    /// <summary>Closes what has not come again for long enough.</summary>
    public void Advance(Instant now)
    {
        foreach (var ((probe, fault), known) in faults.ToList())
        {
            var clear = (IsClock(fault) ? ClockSpan : FaultClear).BclCompatibleTicks;
            if (now.ToUnixTimeTicks() - known.Last >= clear)
            {
                book.Release(AlertOf(fault), AlertSubject.Of(probe), fault.ToString(), known.Last + clear, CloseReason.Over, _ => []);
                faults.Remove((probe, fault));
            }
        }
    }

    private void Raise(ProbeId probe, ProbeFault fault, long since, long openedAt, long last)
    {
        var alert = book.Raise(AlertOf(fault), AlertSubject.Of(probe), IsClock(fault) ? Severity.Note : Severity.Warning, since, openedAt, fault.ToString());
        alert.Probe = probe;
        alert.Fault = alert.Fault == ProbeFault.None ? fault : alert.Fault;
        alert.LastTicks = Math.Max(alert.LastTicks, last);
    }

    private static AlertKind AlertOf(ProbeFault fault) => IsClock(fault) ? AlertKind.ClockWrong : AlertKind.FaultyProbe;

    private static bool IsClock(ProbeFault fault) => fault == ProbeFault.Clock;

    private static ProbeFault? KindOf(RefusalReason reason) => reason switch
    {
        RefusalReason.Sentinel => ProbeFault.Sentinel,
        RefusalReason.OtherUnit => ProbeFault.OtherUnit,
        RefusalReason.Impossible => ProbeFault.Impossible,
        RefusalReason.FutureTime or RefusalReason.BadTime => ProbeFault.Clock,
        _ => null,
    };

    private sealed class Refused
    {
        public FaultTimes Times;

        /// <summary>When it came last.</summary>
        public long Last { get; set; }
    }
}

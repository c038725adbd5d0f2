using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// Tells a faulty probe or a wrong clock by what had to be refused. Refusals have no time of measurement, so that they count in their order of arrival.
/// </summary>
internal sealed class RefusalFold(WatchLimits limits)
{
    /// <summary>Probes that are kept count of; more are counted in <see cref="Dropped"/>.</summary>
    public const int ProbeMax = 512;

    private static readonly Duration FaultSpan = Duration.FromHours(1);
    private static readonly Duration FaultClear = Duration.FromHours(6);
    private static readonly Duration ClockSpan = Duration.FromHours(24);

    private readonly Dictionary<(ProbeId Probe, ProbeFault Fault), FaultTimes> times = [];
    private readonly AlertBook book = new();

    public List<Alert> Told { get; } = [];

    public long Dropped { get; private set; }

    public IEnumerable<Alert> Alerts() => book.Closed.Concat(book.Open.Select(alert => alert.ToAlert([], null, null)));

    public void Take(Refusal refusal)
    {
        if (refusal.Probe is not { } probe || KindOf(refusal.Reason) is not { } fault)
        {
            return;
        }

        var known = times.GetValueOrDefault((probe, fault));
        if (known.Last == 0 && times.Count >= ProbeMax)
        {
            Dropped++;
            return;
        }

        var at = refusal.ReceivedAt.ToUnixTimeTicks();
        var span = IsClock(fault) ? ClockSpan : FaultSpan;
        var tooMany = known.Add(at, limits.FaultCount, span.BclCompatibleTicks);
        times[(probe, fault)] = known;
        if (!tooMany)
        {
            return;
        }

        var kind = IsClock(fault) ? AlertKind.ClockWrong : AlertKind.FaultyProbe;
        var alert = book.Raise(kind, AlertSubject.Of(probe), IsClock(fault) ? Severity.Note : Severity.Warning, at, at, fault.ToString());
        alert.Probe = probe;
        alert.Fault = alert.Fault == ProbeFault.None ? fault : alert.Fault;
        alert.LastTicks = Math.Max(alert.LastTicks, at);
    }

    /// <summary>Closes what has not come again for long enough.</summary>
    public void Advance(Instant now)
    {
        foreach (var ((probe, fault), known) in times.ToList())
        {
            var clear = (IsClock(fault) ? ClockSpan : FaultClear).BclCompatibleTicks;
            if (now.ToUnixTimeTicks() - known.Last >= clear)
            {
                book.Release(IsClock(fault) ? AlertKind.ClockWrong : AlertKind.FaultyProbe, AlertSubject.Of(probe), fault.ToString(), known.Last + clear, CloseReason.Over, _ => []);
                times.Remove((probe, fault));
            }
        }
    }

    private static bool IsClock(ProbeFault fault) => fault == ProbeFault.Clock;

    private static ProbeFault? KindOf(RefusalReason reason) => reason switch
    {
        RefusalReason.Sentinel => ProbeFault.Sentinel,
        RefusalReason.OtherUnit => ProbeFault.OtherUnit,
        RefusalReason.Impossible => ProbeFault.Impossible,
        RefusalReason.FutureTime or RefusalReason.BadTime => ProbeFault.Clock,
        _ => null,
    };
}

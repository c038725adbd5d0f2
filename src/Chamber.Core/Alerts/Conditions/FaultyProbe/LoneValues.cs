using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>Lone wild values of a probe, and jumps faster than the thing it measures can. A value: a copy is independent.</summary>
internal struct LoneValues
{
    private static readonly TimeSpan Span = TimeSpan.FromDays(1);

    // Wet media of a box changes by about 1 K a minute at most (common practice, no source).
    private const double MediaKelvinsPerMinute = 1;

    private FaultTimes spikes;
    private FaultTimes rates;

    /// <summary>Counts a lone value; returns whether there were too many.</summary>
    public bool AddSpike(Moment at) => spikes.Add(at, FaultyProbeLimits.FaultCount, Span);

    /// <summary>Counts a jump that was borne out, when media cannot do it; returns whether there were too many.</summary>
    public bool AddJump(Measurand measurand, in TimedTemperature from, in TimedTemperature to)
    {
        var minutes = Math.Max(1, (to.At - from.At).Ticks / (double)TimeSpan.TicksPerMinute);
        return measurand == Measurand.Media && Math.Abs(to.Temperature.Celsius - from.Temperature.Celsius) / minutes > MediaKelvinsPerMinute
            && rates.Add(to.At, FaultyProbeLimits.FaultCount, Span);
    }

    /// <summary>Whether there is any that is not over yet.</summary>
    public readonly bool Any => spikes.Any || rates.Any;

    /// <summary>When a fault was over at a moment, since none has come for long enough; null when it is not. Said once.</summary>
    public Moment? TakeEnd(ProbeFault fault, Moment at) => fault == ProbeFault.Spike ? TakeEnd(ref spikes, at) : TakeEnd(ref rates, at);

    private static Moment? TakeEnd(ref FaultTimes times, Moment at)
    {
        if (times.Last is not { } last || at - last < Span)
        {
            return null;
        }

        times = default;
        return last + Span;
    }
}

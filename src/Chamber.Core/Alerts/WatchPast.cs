using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What a watch that has just started is rebuilt from.</summary>
/// <param name="Read">The journal: readings of a probe from an instant on, in order of time.</param>
/// <param name="From">Everything is folded again from here on, and further back where something that holds began before.</param>
public sealed record WatchPast(Func<ProbeId, Instant, IEnumerable<Reading>> Read, Instant From)
{
    /// <summary>The watch is rebuilt from so far back.</summary>
    public static readonly Duration Reach = Duration.FromDays(14);

    /// <summary>What is usual on a spot is learnt from so far back: from 14 days alone, half of the shifts on a sill would not be found
    /// after a start.</summary>
    public static readonly Duration UsualReach = Duration.FromDays(60);

    /// <summary>Temperatures of a probe before an instant, in order of time, from as far back as is wanted: what is usual on a spot is
    /// learnt from them, and nothing else.</summary>
    public Func<ProbeId, Instant, IEnumerable<TemperatureSample>>? Earlier { get; init; }

    /// <summary>What was refused lately, in order of arrival.</summary>
    public IReadOnlyList<Refusal> Refusals { get; init; } = [];

    /// <summary>When each probe spoke last, the newest first: those that nobody has set up are watched on, and how long one is silent is
    /// known.</summary>
    public IReadOnlyList<(ProbeId Probe, Instant At)> Heard { get; init; } = [];

    /// <summary>Up to when a watch ran before: what it said of drift until then stands. Null when that is not known.</summary>
    public Instant? WatchedUpTo { get; init; }
}

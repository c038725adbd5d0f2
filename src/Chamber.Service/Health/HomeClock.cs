using System.Globalization;
using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Health;

/// <summary>The clock was set, or the machine slept.</summary>
/// <param name="From">The time that it would have been.</param>
/// <param name="To">The time that it was then.</param>
internal sealed record ClockStep(Instant From, Instant To)
{
    public bool IsAhead => To > From;

    public Duration Length => IsAhead ? To - From : From - To;
}

/// <summary>
/// The home's time by a machine's clock that may be wrong. A machine that has no clock of its own starts in 1970 or so: a time before
/// <see cref="KnownTime.Earliest"/> is not believed, and time is counted on from the last one that is known. Any other time is believed,
/// and what it skips or repeats is reported.
/// </summary>
/// <param name="machine">The machine's clock; its timestamps go on evenly whatever becomes of the time.</param>
/// <param name="zone">In which times are told.</param>
internal sealed class HomeClock(TimeProvider machine, DateTimeZone zone) : TimeProvider
{
    /// <summary>A time service may set a clock by less without a word.</summary>
    public static readonly Duration StepMin = Duration.FromMinutes(2);

    /// <summary>For so long a step is told on the page.</summary>
    private static readonly Duration Told = Duration.FromHours(1);

    private readonly Lock gate = new();
    private readonly long begun = machine.GetTimestamp();
    private (Instant At, long Stamp) known = (KnownTime.Earliest, machine.GetTimestamp());
    private (Instant At, long Stamp)? last;
    private Instant ahead = Instant.MinValue;
    private ClockStep? step;

    public override TimeZoneInfo LocalTimeZone => machine.LocalTimeZone;

    public override long TimestampFrequency => machine.TimestampFrequency;

    /// <summary>Whether time is counted on, because the machine's clock was never set.</summary>
    public bool IsDoubted => Machine < KnownTime.Earliest;

    /// <summary>How long this process has run.</summary>
    public Duration Running => Duration.FromTimeSpan(machine.GetElapsedTime(begun));

    /// <summary>What is wrong with the clock now, with the fix; null when nothing is.</summary>
    public HomeTrouble? Trouble
    {
        get
        {
            var now = Instant.FromDateTimeOffset(GetUtcNow());
            lock (gate)
            {
                return IsDoubted
                    ? new("This machine's clock is wrong", $"It says {Show(Machine)}, so time is counted on from the last one known, and "
                        + $"it may be later than {Show(now)}. Readings are taken in, marked as doubted. Set the clock, preferably with a "
                        + "time service (apt-get install systemd-timesyncd).")
                    : now + StepMin < ahead
                    ? new("This machine's clock is behind what is recorded", $"It says {Show(now)}, and readings have arrived up to "
                        + $"{Show(ahead)}. If it is wrong, set it, preferably with a time service; if it was ahead before and is right "
                        + "now, nothing is to be done: what is dated later counts when its time has come.")
                    : null;
            }
        }
    }

    /// <summary>That the clock was set, or the machine slept, in the last hour; null when it was not.</summary>
    public string? Stepped
    {
        get
        {
            var now = Instant.FromDateTimeOffset(GetUtcNow());
            return step is { } lately && now - lately.To < Told ? Sentence(lately) : null;
        }
    }

    private Instant Machine => Instant.FromDateTimeOffset(machine.GetUtcNow());

    public override DateTimeOffset GetUtcNow()
    {
        var time = machine.GetUtcNow();
        if (Instant.FromDateTimeOffset(time) >= KnownTime.Earliest)
        {
            return time;
        }

        lock (gate)
        {
            return (known.At + Duration.FromTimeSpan(machine.GetElapsedTime(known.Stamp))).ToDateTimeOffset();
        }
    }

    public override long GetTimestamp() => machine.GetTimestamp();

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        machine.CreateTimer(callback, state, dueTime, period);

    /// <summary>It is later than this: so it is recorded.</summary>
    public void KnowPast(Instant at)
    {
        lock (gate)
        {
            if (at > known.At)
            {
                known = (at, machine.GetTimestamp());
            }

            ahead = Instant.Max(ahead, at);
        }
    }

    /// <summary>Looks, every second or so, whether the time has gone on evenly since the last look.</summary>
    /// <returns>By how much it has not; null when it has.</returns>
    public ClockStep? Look()
    {
        var now = Instant.FromDateTimeOffset(GetUtcNow());
        lock (gate)
        {
            var stamp = machine.GetTimestamp();
            var expected = last is { } before ? before.At + Duration.FromTimeSpan(machine.GetElapsedTime(before.Stamp, stamp)) : now;
            last = (now, stamp);
            if (!IsDoubted)
            {
                known = (now, stamp);
            }

            var found = new ClockStep(expected, now);
            if (found.Length < StepMin)
            {
                return null;
            }

            ahead = found.IsAhead ? ahead : Instant.Max(ahead, expected);
            return step = found;
        }
    }

    /// <summary>What has happened, and what follows.</summary>
    public string Sentence(ClockStep step) => step.IsAhead
        ? $"The time went from {Show(step.From)} to {Show(step.To)} at once: the clock was set, or this machine slept. Nobody watched in "
            + "between. If the clock is wrong now, set it."
        : $"The clock was put back from {Show(step.From)} to {Show(step.To)}. What is dated later counts when its time has come. If the "
            + "clock is wrong now, set it.";

    private string Show(Instant at) => at.InZone(zone).ToString("ddd d MMM uuuu HH:mm", CultureInfo.InvariantCulture);
}

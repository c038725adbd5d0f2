using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Folding;

/// <summary>
/// An instant of the fold, in Unix ticks of 100 ns: half the size of an <see cref="Instant"/> and several times as quick to compare, which
/// counts where a year of readings is folded in a second. Ordered by time. The default value is 1970.
/// </summary>
/// <param name="Ticks">Unix ticks.</param>
internal readonly record struct Moment(long Ticks) : IComparable<Moment>
{
    /// <summary>Before anything that is folded.</summary>
    public static readonly Moment Beginning = new(0);

    /// <summary>After anything that is folded. Nothing is added to it.</summary>
    public static readonly Moment Never = new(long.MaxValue);

    // About the year 2500: past anything that a home will live to see, and safe to add spans to.
    private const long FarFuture = 530L * 365 * NodaConstants.TicksPerDay;

    /// <summary>The hour in which it lies begins here.</summary>
    public Moment HourStart => new(Ticks / NodaConstants.TicksPerHour * NodaConstants.TicksPerHour);

    /// <summary>The first whole hour after it.</summary>
    public Moment NextHour => new((Ticks / NodaConstants.TicksPerHour + 1) * NodaConstants.TicksPerHour);

    /// <summary>The instant; one before 1970 is <see cref="Beginning"/>, one far ahead <see cref="Never"/>.</summary>
    public static Moment Of(Instant instant)
    {
        var ticks = instant.ToUnixTimeTicks();
        return ticks <= 0 ? Beginning : ticks >= FarFuture ? Never : new(ticks);
    }

    public static Moment StartOf(Interval interval) => interval.HasStart ? Of(interval.Start) : Beginning;

    public static Moment EndOf(Interval interval) => interval.HasEnd ? Of(interval.End) : Never;

    public static Moment Earlier(Moment one, Moment other) => one.Ticks <= other.Ticks ? one : other;

    public static Moment Later(Moment one, Moment other) => one.Ticks >= other.Ticks ? one : other;

    public Instant ToInstant() => Instant.FromUnixTimeTicks(Ticks);

    /// <summary>The hour of the day, 0 to 23, by a home's clock.</summary>
    public int HourOfDay(DateTimeZone zone) => ToInstant().InZone(zone).Hour;

    public override string ToString() => this == Never ? "never" : ToInstant().ToString();

    public int CompareTo(Moment other) => Ticks.CompareTo(other.Ticks);

    public static TimeSpan operator -(Moment left, Moment right) => new(left.Ticks - right.Ticks);

    public static Moment operator -(Moment left, TimeSpan right) => new(left.Ticks - right.Ticks);

    public static Moment operator +(Moment left, TimeSpan right) => new(left.Ticks + right.Ticks);

    public static bool operator <(Moment left, Moment right) => left.Ticks < right.Ticks;

    public static bool operator >(Moment left, Moment right) => left.Ticks > right.Ticks;

    public static bool operator <=(Moment left, Moment right) => left.Ticks <= right.Ticks;

    public static bool operator >=(Moment left, Moment right) => left.Ticks >= right.Ticks;
}

/// <summary>A temperature at a moment of the fold.</summary>
internal readonly record struct TimedTemperature(Moment At, Temperature Temperature);

using Chamber.Core;
using Chamber.Storage.Readings;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>The times that readings lie in: whole milliseconds within <see cref="Bounds.Year"/>, in months of UTC.</summary>
internal static class ReadingTimes
{
    private static readonly Instant First = NodaConstants.UnixEpoch;
    private static readonly Instant End = Instant.FromUtc((int)Bounds.Year.High + 1, 1, 1, 0, 0);

    public static bool Holds(Instant at) => at >= First && at < End;

    public static DateOnly MonthOf(Instant at) => at.InUtc().Date.With(DateAdjusters.StartOfMonth).ToDateOnly();

    /// <summary>The millisecond that a time lies in, by which readings are told apart.</summary>
    public static Instant Floor(Instant at) => Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());

    /// <summary>The beginning of the quarter of an hour that a time lies in: what a level stretch may be as long as.</summary>
    public static Instant QuarterOf(Instant at) => Instant.FromUnixTimeMilliseconds(
        Stretch.Slot(at.ToUnixTimeMilliseconds(), Stretch.LengthMax) * Stretch.LengthMax);

    /// <summary>From inclusive, to exclusive; rounded up, as the millisecond of a reading is rounded down.</summary>
    public static (Instant From, Instant To) Range(Interval interval) => (
        interval.HasStart ? Instant.Max(First, Ceiling(interval.Start)) : First,
        interval.HasEnd ? Instant.Min(End, Ceiling(interval.End)) : End);

    private static Instant Ceiling(Instant at) => Floor(at) is var floor && floor < at ? floor + Duration.FromMilliseconds(1) : floor;
}

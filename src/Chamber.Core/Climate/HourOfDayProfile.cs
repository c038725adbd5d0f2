using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// How warm a spot usually is at each hour of the day, in the home's time zone: for each hour the mean of its temperatures,
/// their standard deviation, and how much time stands behind them. An hour that was never measured has none.
/// </summary>
public sealed class HourOfDayProfile
{
    private readonly HourOfDay?[] hours;

    internal HourOfDayProfile(DateTimeZone zone, HourOfDay?[] hours)
    {
        Zone = zone;
        this.hours = hours;
    }

    /// <summary>The zone whose hours these are.</summary>
    public DateTimeZone Zone { get; }

    /// <summary>The 24 hours from midnight; null where nothing was measured.</summary>
    public IReadOnlyList<HourOfDay?> Hours => hours;

    /// <summary>Whether every hour of the day was measured.</summary>
    public bool IsComplete => Array.TrueForAll(hours, hour => hour is not null);

    /// <summary>The hour of day that an instant falls in.</summary>
    public HourOfDay? At(Instant instant) => hours[instant.InZone(Zone).Hour];
}

/// <summary>One hour of the day in a profile.</summary>
/// <param name="Mean">Mean temperature over the measured time.</param>
/// <param name="Deviation">Standard deviation of the hourly means from day to day, K; 0 with a single day.</param>
/// <param name="Days">On how many days it was measured.</param>
public readonly record struct HourOfDay(Temperature Mean, double Deviation, int Days);

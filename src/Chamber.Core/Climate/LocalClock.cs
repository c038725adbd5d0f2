using NodaTime;
using NodaTime.TimeZones;

namespace Chamber.Core.Climate;

/// <summary>Finds hours of the day and days of a zone in ticks, fast for instants near one another. Mutable: one for each fold.</summary>
internal struct LocalClock(DateTimeZone zone)
{
    private ZoneInterval? current;
    private long start;
    private long end;
    private long offset;

    /// <summary>Hours since 1970-01-01 00:00 of local time; divided by 24 it is the day. In the hour that the clock repeats, the same
    /// number twice.</summary>
    public long HourNumber(long ticks)
    {
        Find(ticks);
        return FloorDivide(ticks + offset, NodaConstants.TicksPerHour);
    }

    /// <summary>The next instant after this one at which the local hour changes.</summary>
    public long NextHour(long ticks)
    {
        Find(ticks);
        var next = (FloorDivide(ticks + offset, NodaConstants.TicksPerHour) + 1) * NodaConstants.TicksPerHour - offset;
        return Math.Min(next, end);
    }

    /// <summary>The first instant of the next local day; a night of 23 or 25 hours counts as it is.</summary>
    public long NextDay(long ticks)
    {
        var date = DateOf(ticks).PlusDays(1);
        return zone.AtStartOfDay(date).ToInstant().ToUnixTimeTicks();
    }

    public readonly LocalDate DateOf(long ticks) => Instant.FromUnixTimeTicks(ticks).InZone(zone).Date;

    public static (LocalDate Date, int Hour) Split(long hourNumber)
    {
        var day = FloorDivide(hourNumber, 24);
        return (LocalDate.FromDateTime(DateTime.UnixEpoch).PlusDays((int)day), (int)(hourNumber - day * 24));
    }

    private void Find(long ticks)
    {
        if (current is not null && ticks >= start && ticks < end)
        {
            return;
        }

        current = zone.GetZoneInterval(Instant.FromUnixTimeTicks(ticks));
        start = current.HasStart ? current.Start.ToUnixTimeTicks() : long.MinValue;
        end = current.HasEnd ? current.End.ToUnixTimeTicks() : long.MaxValue;
        offset = current.WallOffset.Ticks;
    }

    private static long FloorDivide(long value, long by) => value >= 0 ? value / by : -((by - 1 - value) / by);
}

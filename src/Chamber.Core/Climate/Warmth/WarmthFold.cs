using NodaTime;

namespace Chamber.Core.Climate.Warmth;

/// <summary>
/// Adds up warm-hours over a trace, by local day and in total, and fills gaps from the usual day of the spot. The integral of measured time
/// is exact; an hour of a gap counts with the effective warmth of its usual mean temperature. Sums over two parts equal the sum over the
/// whole.
/// </summary>
public static class WarmthFold
{
    /// <summary>Warm-hours from the first reading to the last; none without readings.</summary>
    public static WarmthReport Over(TemperatureTrace trace, WarmthLimits limits, DateTimeZone zone, HourOfDayProfile? usual = null) =>
        Over(trace, trace.Span ?? new Interval(NodaConstants.UnixEpoch, NodaConstants.UnixEpoch), limits, zone, usual);

    /// <summary>Warm-hours between two instants.</summary>
    /// <param name="trace">The temperature; readings outside the interval help to draw the line at its ends.</param>
    /// <param name="when">An interval with both ends.</param>
    /// <param name="limits">The crop's cardinal temperatures and limits.</param>
    /// <param name="zone">The home's zone.</param>
    /// <param name="usual">The usual day of the spot; without it every gap is unknown.</param>
    public static WarmthReport Over(TemperatureTrace trace, Interval when, WarmthLimits limits, DateTimeZone zone,
        HourOfDayProfile? usual = null)
    {
        var (from, to) = (when.Start.ToUnixTimeTicks(), when.End.ToUnixTimeTicks());
        var sink = new DaySink(new LineSum(limits), zone, usual, []);
        if (from < to)
        {
            trace.Walk(from, to, ref sink);
            sink.Close();
        }

        return new(when, sink.Days.Aggregate(default(WarmthSum), (sum, day) => sum + day.Sum), sink.Days);
    }

    private struct DaySink(LineSum line, DateTimeZone zone, HourOfDayProfile? usual, List<WarmthDay> days) : ITraceSink
    {
        private LineSum line = line;
        private LocalClock clock = new(zone);
        private LocalClock usualClock = new(usual?.Zone ?? zone);
        private long dayEnd = long.MinValue;
        private LocalDate date;
        private double estimated;
        private long estimatedTicks;
        private long unknownTicks;

        public readonly List<WarmthDay> Days => days;

        public void Line(long fromTicks, double fromCelsius, long toTicks, double toCelsius)
        {
            while (true)
            {
                Enter(fromTicks);
                if (toTicks <= dayEnd)
                {
                    line.Add(toTicks - fromTicks, fromCelsius, toCelsius);
                    return;
                }

                var celsius = fromCelsius + (toCelsius - fromCelsius) * ((double)(dayEnd - fromTicks) / (toTicks - fromTicks));
                line.Add(dayEnd - fromTicks, fromCelsius, celsius);
                (fromTicks, fromCelsius) = (dayEnd, celsius);
            }
        }

        public void Held(long fromTicks, long toTicks, double celsius)
        {
            while (fromTicks < toTicks)
            {
                Enter(fromTicks);
                var right = Math.Min(toTicks, dayEnd);
                Estimate(right - fromTicks, line.Cardinals.EffectiveWarmth(celsius));
                fromTicks = right;
            }
        }

        public void Gap(long fromTicks, long toTicks)
        {
            while (fromTicks < toTicks)
            {
                Enter(fromTicks);
                var right = Math.Min(toTicks, Math.Min(dayEnd, usualClock.NextHour(fromTicks)));
                if (usual?.AtHour(usualClock.HourNumber(fromTicks)) is { } hour)
                {
                    Estimate(right - fromTicks, line.Cardinals.EffectiveWarmth(hour.Mean.Celsius));
                }
                else
                {
                    unknownTicks += right - fromTicks;
                }

                fromTicks = right;
            }
        }

        public void Close()
        {
            if (dayEnd == long.MinValue)
            {
                return;
            }

            days.Add(new(date, new(
                WarmHours.FromCelsiusHours(line.WarmHours),
                WarmHours.FromCelsiusHours(estimated),
                Duration.FromTicks(line.Ticks),
                Duration.FromTicks(estimatedTicks),
                Duration.FromTicks(unknownTicks),
                line.HoursBelow,
                line.HoursAbove)));
            line.Clear();
            (estimated, estimatedTicks, unknownTicks) = (0, 0, 0);
        }

        private void Estimate(long ticks, double warmth)
        {
            estimated += ticks / (double)NodaConstants.TicksPerHour * warmth;
            estimatedTicks += ticks;
        }

        private void Enter(long ticks)
        {
            if (ticks < dayEnd)
            {
                return;
            }

            Close();
            date = clock.DateOf(ticks);
            dayEnd = clock.NextDay(ticks);
        }
    }
}

using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>The mean temperature of one local hour of one day, over its measured time.</summary>
/// <param name="Date">The local day.</param>
/// <param name="Hour">The hour of day, 0 to 23.</param>
/// <param name="Start">The first measured instant of it.</param>
/// <param name="Mean">Mean over the measured time.</param>
/// <param name="MeasuredHours">How much of it was measured, above 0; in the hour that the clock repeats, up to 2.</param>
public readonly record struct HourlyMean(LocalDate Date, int Hour, Instant Start, Temperature Mean, double MeasuredHours);

/// <summary>Sums a trace up by local hours.</summary>
public static class HourlyMeans
{
    /// <summary>Hours with any measured time, in order of time.</summary>
    public static IReadOnlyList<HourlyMean> Of(TemperatureTrace trace, DateTimeZone zone)
    {
        if (trace.Span is not { } span)
        {
            return [];
        }

        var sink = new HourSink(zone, []);
        trace.Walk(span.Start.ToUnixTimeTicks(), span.End.ToUnixTimeTicks(), ref sink);
        sink.Close();
        return sink.Hours;
    }

    private struct HourSink(DateTimeZone zone, List<HourlyMean> hours) : ITraceSink
    {
        private LocalClock clock = new(zone);
        private long number = long.MinValue;
        private long start;
        private long until;
        private double weight;
        private double sum;

        public readonly List<HourlyMean> Hours => hours;

        public void Line(long fromTicks, double fromCelsius, long toTicks, double toCelsius)
        {
            while (fromTicks < toTicks)
            {
                Enter(fromTicks);
                var right = Math.Min(toTicks, until);
                var celsius = right == toTicks
                    ? toCelsius
                    : fromCelsius + (toCelsius - fromCelsius) * ((double)(right - fromTicks) / (toTicks - fromTicks));
                var length = (right - fromTicks) / (double)NodaConstants.TicksPerHour;
                weight += length;
                sum += length * (fromCelsius + celsius) / 2;
                (fromTicks, fromCelsius) = (right, celsius);
            }
        }

        public readonly void Held(long fromTicks, long toTicks, double celsius)
        {
        }

        public readonly void Gap(long fromTicks, long toTicks)
        {
        }

        public void Close()
        {
            if (weight > 0)
            {
                var (date, hour) = LocalClock.Split(number);
                hours.Add(new(date, hour, Instant.FromUnixTimeTicks(start), Temperature.FromCelsius(sum / weight), weight));
            }

            (weight, sum) = (0, 0);
        }

        private void Enter(long ticks)
        {
            if (ticks < until && number != long.MinValue)
            {
                return;
            }

            var entered = clock.HourNumber(ticks);
            if (entered != number)
            {
                Close();
                (number, start) = (entered, ticks);
            }

            until = clock.NextHour(ticks);
        }
    }
}

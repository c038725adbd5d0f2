using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>
/// How long a spot was how warm, in steps of 0.1 °C, for each hour of each day: what the suitability for any crop needs, made once. A straight
/// line of temperature is spread over the steps exactly. A crop whose numbers are multiples of 0.1 °C gets its exact warm-hours back.
/// </summary>
internal sealed class SurveyGrid
{
    public const double StepsPerDegree = 10;

    private SurveyGrid(IReadOnlyList<Slot> slots, double[] hours, double[] celsius, IReadOnlyList<LocalDate> days)
    {
        Slots = slots;
        Hours = hours;
        Celsius = celsius;
        Days = days;
    }

    /// <summary>Hours of days with any measured time, in order.</summary>
    public IReadOnlyList<Slot> Slots { get; }

    /// <summary>Time at each step of each slot, hours.</summary>
    public double[] Hours { get; }

    /// <summary>Mean temperature of that time, °C.</summary>
    public double[] Celsius { get; }

    /// <summary>The local days, in order.</summary>
    public IReadOnlyList<LocalDate> Days { get; }

    public static SurveyGrid Of(TemperatureTrace trace, DateTimeZone zone)
    {
        var sink = new GridSink(zone, new());
        if (trace.Span is { } span)
        {
            trace.Walk(span.Start.ToUnixTimeTicks(), span.End.ToUnixTimeTicks(), ref sink);
            sink.Close();
        }

        var made = sink.Made;
        return new(made.Slots, [.. made.Hours], [.. made.Celsius], made.Days);
    }

    /// <summary>One hour of one day: its steps are those from <paramref name="Start"/> to before <paramref name="End"/>.</summary>
    /// <param name="Day">Index into the days.</param>
    /// <param name="Hour">Hour of day.</param>
    /// <param name="Measured">Measured hours of it, above 0.</param>
    /// <param name="Start">First step.</param>
    /// <param name="End">Past its last step.</param>
    internal readonly record struct Slot(int Day, int Hour, double Measured, int Start, int End);

    private sealed class Lists
    {
        public List<Slot> Slots { get; } = [];

        public List<double> Hours { get; } = [];

        public List<double> Celsius { get; } = [];

        public List<LocalDate> Days { get; } = [];

        /// <summary>Time and time × temperature of the hour that is being filled, by step.</summary>
        public SortedDictionary<int, (double Hours, double Sum)> Open { get; } = [];
    }

    private struct GridSink(DateTimeZone zone, Lists lists) : ITraceSink
    {
        private LocalClock clock = new(zone);
        private long number = long.MinValue;
        private long until = long.MinValue;
        private int step = int.MinValue;
        private double stepHours;
        private double stepSum;

        public readonly Lists Made => lists;

        public void Line(long fromTicks, double fromCelsius, long toTicks, double toCelsius)
        {
            while (fromTicks < toTicks)
            {
                Enter(fromTicks);
                var right = Math.Min(toTicks, until);
                var celsius = right == toTicks
                    ? toCelsius
                    : fromCelsius + (toCelsius - fromCelsius) * ((double)(right - fromTicks) / (toTicks - fromTicks));
                Spread((right - fromTicks) / (double)NodaConstants.TicksPerHour, fromCelsius, celsius);
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
            Flush();
            if (lists.Open.Count == 0)
            {
                return;
            }

            var (date, hour) = LocalClock.Split(number);
            if (lists.Days.Count == 0 || lists.Days[^1] != date)
            {
                lists.Days.Add(date);
            }

            var start = lists.Hours.Count;
            foreach (var (hours, sum) in lists.Open.Values)
            {
                lists.Hours.Add(hours);
                lists.Celsius.Add(sum / hours);
            }

            lists.Slots.Add(new(lists.Days.Count - 1, hour, lists.Open.Values.Sum(entry => entry.Hours), start, lists.Hours.Count));
            lists.Open.Clear();
        }

        private void Spread(double hours, double from, double to)
        {
            var (low, high) = from <= to ? (from, to) : (to, from);
            var (first, last) = ((int)Math.Floor(low * StepsPerDegree), (int)Math.Floor(high * StepsPerDegree));
            if (first == last)
            {
                Put(first, hours, (low + high) / 2);
                return;
            }

            for (var i = first; i <= last; i++)
            {
                var (left, right) = (Math.Max(low, i / StepsPerDegree), Math.Min(high, (i + 1) / StepsPerDegree));
                if (right > left)
                {
                    Put(i, hours * (right - left) / (high - low), (left + right) / 2);
                }
            }
        }

        /// <summary>Neighbouring lines mostly stay on one step, so that one is kept at hand.</summary>
        private void Put(int at, double hours, double celsius)
        {
            if (at != step)
            {
                Flush();
                step = at;
            }

            stepHours += hours;
            stepSum += hours * celsius;
        }

        private void Flush()
        {
            if (stepHours > 0)
            {
                lists.Open.TryGetValue(step, out var entry);
                lists.Open[step] = (entry.Hours + stepHours, entry.Sum + stepSum);
            }

            (step, stepHours, stepSum) = (int.MinValue, 0, 0);
        }

        private void Enter(long ticks)
        {
            if (ticks < until)
            {
                return;
            }

            var entered = clock.HourNumber(ticks);
            if (entered != number)
            {
                Close();
                number = entered;
            }

            until = clock.NextHour(ticks);
        }
    }
}

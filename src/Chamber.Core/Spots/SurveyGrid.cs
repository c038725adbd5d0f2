using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>
/// How long a spot was how warm, in steps of 0.1 °C, for each hour of each day: what the suitability for any crop needs, made once. A
/// straight line of temperature is spread over the steps exactly. A crop whose numbers are multiples of 0.1 °C gets its exact warm-hours
/// back.
/// </summary>
internal sealed class SurveyGrid
{
    public const double StepsPerDegree = 10;

    // No believable reading lies outside; one that does is kept on the outermost step.
    private const int ColdestStep = -100 * (int)StepsPerDegree;
    private const int StepCount = 300 * (int)StepsPerDegree;

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

        /// <summary>Time and time × temperature of the hour that is being filled, by step from the coldest on.</summary>
        public double[] OpenHours { get; } = new double[StepCount];

        public double[] OpenSums { get; } = new double[StepCount];

        public int First { get; set; } = StepCount;

        public int Last { get; set; } = -1;
    }

    private struct GridSink(DateTimeZone zone, Lists lists) : ITraceSink
    {
        private LocalClock clock = new(zone);
        private long number = long.MinValue;
        private long until = long.MinValue;

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

        public readonly void Close()
        {
            if (lists.Last < 0)
            {
                return;
            }

            var (date, hour) = LocalClock.Split(number);
            if (lists.Days.Count == 0 || lists.Days[^1] != date)
            {
                lists.Days.Add(date);
            }

            var start = lists.Hours.Count;
            var measured = 0.0;
            for (var step = lists.First; step <= lists.Last; step++)
            {
                if (lists.OpenHours[step] is > 0 and var hours)
                {
                    lists.Hours.Add(hours);
                    lists.Celsius.Add(lists.OpenSums[step] / hours);
                    measured += hours;
                    (lists.OpenHours[step], lists.OpenSums[step]) = (0, 0);
                }
            }

            lists.Slots.Add(new(lists.Days.Count - 1, hour, measured, start, lists.Hours.Count));
            (lists.First, lists.Last) = (StepCount, -1);
        }

        private readonly void Spread(double hours, double from, double to)
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

        private readonly void Put(int step, double hours, double celsius)
        {
            var index = Math.Clamp(step - ColdestStep, 0, StepCount - 1);
            lists.OpenHours[index] += hours;
            lists.OpenSums[index] += hours * celsius;
            lists.First = Math.Min(lists.First, index);
            lists.Last = Math.Max(lists.Last, index);
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

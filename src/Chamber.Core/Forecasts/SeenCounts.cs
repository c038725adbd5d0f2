using Chamber.Core.Batches;

namespace Chamber.Core.Forecasts;

/// <summary>
/// What looks have proved, in warm-hours: so many seeds came up somewhere between one look and the next, and the others had not
/// come up by the last one. No seed has an exact time.
/// </summary>
public sealed class SeenCounts
{
    /// <summary>A spot too cold for any progress can still show a seedling; the interval in which it came is then given this much
    /// width.</summary>
    private const double WidthMin = 0.01;

    private SeenCounts(int seeds, int up, double lastWarmHours, CountedInterval[] intervals)
    {
        Seeds = seeds;
        Up = up;
        LastWarmHours = lastWarmHours;
        Intervals = intervals;
    }

    /// <summary>How many were sown.</summary>
    public int Seeds { get; }

    /// <summary>How many were up at the last look.</summary>
    public int Up { get; }

    /// <summary>Warm-hours at the last look, °C·h; 0 without a look.</summary>
    public double LastWarmHours { get; }

    internal CountedInterval[] Intervals { get; }

    /// <summary>Nobody has looked yet.</summary>
    public static SeenCounts Nothing(int seeds) => new(seeds, 0, 0, []);

    /// <summary>The looks of a batch against its warm-hours.</summary>
    /// <exception cref="LookRefusedException">A look cannot be true.</exception>
    public static SeenCounts Of(Batch batch, WarmthCourse course)
    {
        LookCheck.RequireAll(batch);
        return Of(batch.Seeds, batch.Looks.Select(look => (course.At(look.At).CelsiusHours, look.Up)));
    }

    /// <summary>Looks as warm-hours and total counts, in order.</summary>
    internal static SeenCounts Of(int seeds, IEnumerable<(double WarmHours, int Up)> looks)
    {
        var intervals = new List<CountedInterval>();
        var (last, up) = (0.0, 0);
        foreach (var look in looks)
        {
            var here = Math.Max(look.WarmHours, last);
            if (look.Up > up)
            {
                here = Math.Max(here, last * (1 + WidthMin) + WidthMin);
                intervals.Add(new(last, here, look.Up - up));
            }

            (last, up) = (here, look.Up);
        }

        return new(seeds, up, last, [.. intervals]);
    }
}

/// <summary>So many seeds came up between two amounts of warm-hours.</summary>
internal readonly record struct CountedInterval(double From, double To, int Count)
{
    public double LogFrom { get; } = From > 0 ? Math.Log(From) : double.NegativeInfinity;

    public double LogTo { get; } = Math.Log(To);
}

using Chamber.Core.Statistics;

namespace Chamber.Core.Trials;

/// <summary>
/// The seeds of all trials at one temperature, with each look's time kept once: the likelihood is summed many thousand times.
/// </summary>
internal sealed class TrialSeeds
{
    /// <summary>Keeps an interval that a curve calls impossible from becoming minus infinity.</summary>
    private const double Tiny = 1e-250;

    private readonly double[] logTimes;
    private readonly (int From, int To, int Count)[] up;
    private readonly (int At, int Count)[] notUp;
    private readonly double[] tails;
    private readonly bool[] isAbove;

    private TrialSeeds(double celsius, IReadOnlyList<TrialCount> counts)
    {
        Celsius = celsius;
        double[] times = [.. counts.SelectMany(count => new[] { count.FromDays, count.ToDays ?? 0 }).Where(time => time > 0)
            .Distinct().Order()];
        logTimes = Array.ConvertAll(times, Math.Log);
        tails = new double[times.Length];
        isAbove = new bool[times.Length];
        up = [.. counts.Where(count => count.ToDays is not null)
            .GroupBy(count => (From: Array.BinarySearch(times, count.FromDays), To: Array.BinarySearch(times, count.ToDays!.Value)))
            .Select(same => (same.Key.From, same.Key.To, same.Sum(count => count.Count)))];
        notUp = [.. counts.Where(count => count is { ToDays: null, FromDays: > 0 })
            .GroupBy(count => Array.BinarySearch(times, count.FromDays))
            .Select(same => (same.Key, same.Sum(count => count.Count)))];
        Up = up.Sum(interval => interval.Count);
        Seeds = counts.Sum(count => count.Count);
    }

    public double Celsius { get; }

    public int Seeds { get; }

    public int Up { get; }

    /// <summary>A rough day by which half of those that came up were up: only a point to start a search from.</summary>
    public double RoughHalfDays
    {
        get
        {
            var ordered = up.OrderBy(interval => interval.To).ToArray();
            var seen = 0;
            foreach (var (from, to, count) in ordered)
            {
                seen += count;
                if (2 * seen >= Up)
                {
                    var end = Math.Exp(logTimes[to]);
                    return from < 0 ? 0.7 * end : (Math.Exp(logTimes[from]) + end) / 2;
                }
            }

            return 1;
        }
    }

    /// <summary>Coolest first; counts of no seed are left out.</summary>
    public static TrialSeeds[] ByTemperature(IEnumerable<TrialCount> counts) =>
        [.. counts.Where(count => count.Count > 0)
            .GroupBy(count => count.Temperature.Celsius)
            .OrderBy(same => same.Key)
            .Select(same => new TrialSeeds(same.Key, [.. same]))];

    /// <summary>ln of the likelihood: ∏ [G (F(b) - F(a))]^n · ∏ [1 - G F(end)]^n, F lognormal in days.</summary>
    /// <param name="logHalf">ln of the days to half; infinite where nothing ever comes up.</param>
    /// <param name="spread">σ.</param>
    /// <param name="share">G.</param>
    public double LogLikelihood(double logHalf, double spread, double share)
    {
        for (var i = 0; i < tails.Length; i++)
        {
            var z = (logTimes[i] - logHalf) / spread;
            isAbove[i] = z > 0;
            tails[i] = StandardNormal.Cdf(-Math.Abs(z));
        }

        var sum = Up * Math.Log(Math.Max(share, Tiny));
        foreach (var (from, to, count) in up)
        {
            sum += count * Math.Log(Math.Max(Between(from, to), Tiny));
        }

        foreach (var (at, count) in notUp)
        {
            sum += count * Math.Log(Math.Max(isAbove[at] ? 1 - share + share * tails[at] : 1 - share * tails[at], Tiny));
        }

        return sum;
    }

    /// <summary>The share that makes these seeds alone most likely, 0 to 1: those not up at the end may have been late or dead.</summary>
    /// <param name="logHalf">ln of the days to half; infinite where nothing ever comes up.</param>
    /// <param name="spread">σ.</param>
    public double LikeliestShare(double logHalf, double spread)
    {
        if (Up == 0 || double.IsPositiveInfinity(logHalf))
        {
            return 0;
        }

        var ends = Array.ConvertAll(notUp, end => (Share: StandardNormal.Cdf((logTimes[end.At] - logHalf) / spread), end.Count));

        // The slope of the logarithm falls as the share grows, so it is halved in upon.
        var (low, high) = (0.0, 1.0);
        if (Slope(1 - 1e-12) >= 0)
        {
            return 1;
        }

        while (high - low > 1e-9)
        {
            var middle = (low + high) / 2;
            (low, high) = Slope(middle) > 0 ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;

        double Slope(double share)
        {
            var sum = Up / share;
            foreach (var (reached, count) in ends)
            {
                sum -= count * reached / (1 - share * reached);
            }

            return sum;
        }
    }

    // From the tail in which the two do not cancel.
    private double Between(int from, int to)
    {
        if (from < 0)
        {
            return isAbove[to] ? 1 - tails[to] : tails[to];
        }

        return (isAbove[from], isAbove[to]) switch
        {
            (true, _) => tails[from] - tails[to],
            (_, true) => 1 - tails[from] - tails[to],
            _ => tails[to] - tails[from],
        };
    }
}

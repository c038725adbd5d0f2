using System.Globalization;

namespace Chamber.Core.Statistics;

/// <summary>
/// Which of two sowings was quicker, among the seeds of each that were up by the last day on which both had been looked at. The others may
/// be slow or dead, which the counts compare; so a sowing of many dead seeds isn't called slow.
/// </summary>
/// <param name="UntilDay">That day, since the sowing.</param>
/// <param name="FirstUp">How many of the first were up by then.</param>
/// <param name="SecondUp">How many of the second.</param>
/// <param name="PValue">Interval-censored log-rank test, two-sided (<see cref="IntervalLogRank"/>).</param>
/// <param name="Difference">Days by which the second took longer to half than the first, 95 % interval of lognormal times; null when the
/// looks were too far apart.</param>
/// <param name="FirstHalf">Days to half of the first; null with <paramref name="Difference"/>.</param>
/// <param name="SecondHalf">Days to half of the second.</param>
/// <param name="Words">The honest sentence.</param>
public sealed record SpeedComparison(
    double UntilDay, int FirstUp, int SecondUp, double PValue, DayDifference? Difference, double? FirstHalf,
        double? SecondHalf, string Words)
{
    private const double Z95 = 1.9599639845400545;

    /// <summary>Whether chance alone is an unlikely explanation.</summary>
    public bool IsProof => PValue < CountComparison.Line;

    /// <summary>Compares the looks of two sowings: days since the sowing, rising, and how many were up in all. Null when one shows none up
    /// by a day both had reached.</summary>
    public static SpeedComparison? Of(IReadOnlyList<(double Days, int Up)> first, IReadOnlyList<(double Days, int Up)> second)
    {
        if (first.Count == 0 || second.Count == 0)
        {
            return null;
        }

        var until = Math.Min(first[^1].Days, second[^1].Days);
        var (one, other) = (Counts(first, until), Counts(second, until));
        if (one.Count == 0 || other.Count == 0)
        {
            return null;
        }

        var test = IntervalLogRank.Of(one, other);
        var fit = IntervalLognormal.Fit([one, other]);
        var compared = new SpeedComparison(until, one.Sum(count => count.Count), other.Sum(count => count.Count), test.PValue, null,
            null, null, "");
        if (fit is not null)
        {
            var (half, late) = (Math.Exp(fit.LogMedians[0]), Math.Exp(fit.LogMedians[1]));
            compared = compared with { Difference = DifferenceOf(fit, half, late), FirstHalf = half, SecondHalf = late };
        }

        return compared with { Words = Say(compared) };
    }

    /// <summary>The variance of a difference of two exponentials of near-normal means (delta method).</summary>
    private static DayDifference DifferenceOf(IntervalLognormal fit, double first, double second)
    {
        var variance = Square(first * fit.StandardError(0))
            + Square(second * fit.StandardError(1)) - 2 * first * second * fit.Covariance(0, 1);
        var reach = Z95 * Math.Sqrt(Math.Max(variance, 0));
        return new(second - first - reach, second - first, second - first + reach);
    }

    private static List<CensoredCount> Counts(IReadOnlyList<(double Days, int Up)> looks, double until)
    {
        var counts = new List<CensoredCount>();
        var (last, before) = (0.0, 0);
        foreach (var (days, up) in looks.Where(look => look.Days <= until + 1e-9))
        {
            if (up > before)
            {
                counts.Add(new(last, days, up - before));
            }

            (last, before) = (days, up);
        }

        return counts;
    }

    private static string Say(SpeedComparison all)
    {
        var counts = string.Create(CultureInfo.InvariantCulture,
            $"Of those up by day {all.UntilDay:0.#} ({all.FirstUp} and {all.SecondUp})");
        if (all.Difference is not { } difference)
        {
            return $"{counts}: the looks were too far apart to say which was faster.";
        }

        var halves = string.Create(CultureInfo.InvariantCulture, $"half were up after {all.FirstHalf:0.#} and {all.SecondHalf:0.#} days");
        var range = Range(difference);
        return (all.IsProof, difference.Low > 0 || difference.High < 0) switch
        {
            (true, _) => $"{counts}, {halves}: more than chance explains; if times are lognormal, {range}.",
            (_, true) => $"{counts}, {halves}: no proof by order alone, but if times are lognormal, {range}.",
            _ => $"{counts}, {halves}: no proof that one is faster; {range}, so it may be either.",
        };
    }

    private static string Range(DayDifference days) => (days.Low, days.High) switch
    {
        ( >= 0, _) => string.Create(CultureInfo.InvariantCulture, $"the second took {days.Low:0.0} to {days.High:0.0} days longer"),
        (_, <= 0) => string.Create(CultureInfo.InvariantCulture, $"the second took {-days.High:0.0} to {-days.Low:0.0} days less"),
        _ => string.Create(CultureInfo.InvariantCulture, $"the second took from {-days.Low:0.0} days less to {days.High:0.0} days longer"),
    };

    private static double Square(double value) => value * value;
}

/// <summary>A difference in days with its 95 % interval.</summary>
public readonly record struct DayDifference(double Low, double Mid, double High);

using Chamber.Core.Climate.Warmth;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>
/// Warm-hours to come on a spot. The residual at each coming hour is normal; from it follow the mean, the slope and the variance
/// of effective warmth at that hour (Gauss-Hermite), and by Stein's identity Cov(E(X), Y) = E[E'(X)] Cov(X, Y)
/// (C. M. Stein, Ann. Statist. 9 (1981) 1135-1151) mean and variance of their sum, hour by hour, in one pass.
/// </summary>
public sealed class SpotOutlook : WarmthOutlook
{
    private const int Quantiles = 15;
    private const int DaysAhead = 60;
    private const int StepHours = 1;

    private static readonly double[] Deviates = EquallyLikelyDeviates();

    private readonly double[][] added;

    /// <param name="cardinals">The crop's temperatures.</param>
    /// <param name="climate">How the spot goes on.</param>
    /// <param name="now">From when on.</param>
    /// <param name="residual">How much warmer than usual it is now, K; 0 when that is not known.</param>
    public SpotOutlook(CardinalTemperatures cardinals, SpotClimate climate, Instant now, double residual)
        : base(Quantiles)
    {
        var steps = DaysAhead * 24 / StepHours;
        added = [.. Deviates.Select(_ => new double[steps + 1])];
        var sum = new WarmthMoments(cardinals, climate, residual);
        var hours = climate.Usual.Hours.Select(hour => hour!.Value.Mean.Celsius).ToArray();
        var local = now.InZone(climate.Usual.Zone);
        var hourOfDay = local.Hour + local.Minute / 60.0;
        for (var step = 1; step <= steps; step++)
        {
            sum.Step(UsualAt(hours, hourOfDay + (step - 0.5) * StepHours));
            for (var j = 0; j < Quantiles; j++)
            {
                added[j][step] = Math.Max(added[j][step - 1], sum.Mean + Deviates[j] * sum.Deviation);
            }
        }
    }

    internal override double Added(int course, double hours)
    {
        var curve = added[course];
        var at = Math.Max(hours, 0) / StepHours;
        var last = curve.Length - 1;
        if (at < last)
        {
            var whole = (int)at;
            return curve[whole] + (at - whole) * (curve[whole + 1] - curve[whole]);
        }

        // Beyond two months one more day adds what the days of the last week added.
        var rate = (curve[last] - curve[last - 7 * 24]) / (7 * 24);
        return curve[last] + (at - last) * rate;
    }

    /// <summary>The usual temperature between the middles of two hours, on a straight line.</summary>
    private static double UsualAt(double[] hours, double hourOfDay)
    {
        var at = hourOfDay - 0.5;
        var floor = Math.Floor(at);
        var share = at - floor;
        var first = hours[Modulo((long)floor)];
        return first + share * (hours[Modulo((long)floor + 1)] - first);
    }

    private static int Modulo(long hour) => (int)(((hour % 24) + 24) % 24);

    /// <summary>Middles of equal parts of the normal distribution, scaled so that their variance is 1.</summary>
    private static double[] EquallyLikelyDeviates()
    {
        var raw = Enumerable.Range(0, Quantiles).Select(j => StandardNormal.Quantile((j + 0.5) / Quantiles)).ToArray();
        var scale = Math.Sqrt(raw.Sum(z => z * z) / Quantiles);
        return [.. raw.Select(z => z / scale)];
    }
}

using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>Fits a <see cref="SpotClimate"/> to the history of a spot.</summary>
public static class SpotClimateFit
{
    /// <summary>With fewer pairs of neighbouring hours than this the persistence is a guess.</summary>
    private const int PairsMin = 48;

    /// <summary>What a spot of a home does when little is known: half gone after half a day. An assumption.</summary>
    private const double UsualPersistence = 0.94;

    /// <summary>Day-to-day deviation of a spot of which one day is known, K. An assumption.</summary>
    private const double UsualDeviation = 1.5;

    /// <summary>A residual that hardly fades can't be told from one that never does by a few weeks of history.</summary>
    private const double PersistenceMax = 0.985;

    /// <summary>
    /// The climate of a spot from its hourly means. φ is the ratio of the autocovariances at two hours and at one (the Yule-Walker
    /// equation of order two for a first-order autoregression under noise: G. E. P. Box and G. M. Jenkins, Time Series Analysis, 1970,
    /// chapter 3), which neither the noise of a probe nor the averaging over an hour can bend; it is raised by (1 + 3φ)/n for the
    /// downward bias that a fitted level leaves (M. G. Kendall, Biometrika 41 (1954) 403-404).
    /// </summary>
    /// <param name="usual">The usual day; every hour measured.</param>
    /// <param name="hourlyMeans">Mean temperature of whole hours, by an instant within each, in order of time and a whole number of hours
    /// apart; hours may be missing.</param>
    /// <exception cref="ArgumentException">The usual day lacks an hour.</exception>
    public static SpotClimate Fit(HourOfDayProfile usual, IReadOnlyList<TemperatureSample> hourlyMeans)
    {
        if (!usual.IsComplete)
        {
            throw new ArgumentException("A spot's temperature cannot be foreseen before every hour of the day was measured.",
                nameof(usual));
        }

        var residuals = hourlyMeans
            .Select(hour => (hour.At, Residual: hour.Temperature.Celsius - usual.At(hour.At)!.Value.Mean.Celsius))
            .ToArray();
        var one = LagSum.Of(residuals, 1);
        var two = LagSum.Of(residuals, 2);
        var days = residuals.Length / 24.0;
        var raw = one.Mean > 0 ? Math.Clamp(two.Mean / one.Mean, 0, PersistenceMax) : 0;
        if (one.Pairs < PairsMin || days < 2)
        {
            return With(usual, UsualPersistence, UsualDeviation, Math.Max(days, 1));
        }

        // The profile was fitted to the same residuals, which takes one of the days out of their variance.
        var variance = raw > 0 ? one.Mean / raw * days / (days - 1) : LagSum.Of(residuals, 0).Mean;
        return With(usual, Math.Min(raw + (1 + 3 * raw) / residuals.Length, PersistenceMax), Math.Sqrt(variance), days);
    }

    /// <summary>How much warmer than usual a spot is, K, from the mean of its last measured hour; null where that hour of day was never
    /// measured.</summary>
    public static double? ResidualNow(SpotClimate climate, TemperatureSample last) =>
        climate.Usual.At(last.At) is { } hour ? last.Temperature.Celsius - hour.Mean.Celsius : null;

    private static SpotClimate With(HourOfDayProfile usual, double persistence, double deviation, double days) =>
        new(usual, persistence, deviation, deviation * Math.Sqrt(Math.Min(1, LevelShare(persistence, days))));

    /// <summary>Variance of the mean of a stationary first-order autoregression over n hours, as a share of its variance:
    /// (1+φ)/(1-φ)/n.</summary>
    private static double LevelShare(double persistence, double days) =>
        (1 + persistence) / (1 - persistence) / (days * 24);

    private readonly record struct LagSum(int Pairs, double Mean)
    {
        public static LagSum Of((Instant At, double Residual)[] residuals, int lag)
        {
            var apart = Duration.FromHours(lag);
            var (pairs, sum) = (0, 0.0);
            for (var i = lag; i < residuals.Length; i++)
            {
                if (residuals[i].At - residuals[i - lag].At == apart)
                {
                    pairs++;
                    sum += residuals[i].Residual * residuals[i - lag].Residual;
                }
            }

            return new(pairs, pairs > 0 ? sum / pairs : 0);
        }
    }
}

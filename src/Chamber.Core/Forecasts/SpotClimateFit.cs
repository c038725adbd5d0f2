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

    /// <summary>A residual that never faded would make the future unbounded.</summary>
    private const double PersistenceMax = 0.995;

    /// <summary>
    /// The climate of a spot from its hourly means.
    /// φ by conditional least squares over pairs of neighbouring hours (G. E. P. Box and G. M. Jenkins, Time Series Analysis, 1970,
    /// chapter 7), raised by (1 + 3φ)/n for the downward bias that a fitted level leaves (M. G. Kendall, Biometrika 41 (1954) 403-404),
    /// n counted for each hour of the day's level.
    /// </summary>
    /// <param name="usual">The usual day; every hour measured.</param>
    /// <param name="hourlyMeans">Mean temperature of whole hours, by the instant at which each begins, in order of time; hours may be missing.</param>
    /// <exception cref="ArgumentException">The usual day lacks an hour.</exception>
    public static SpotClimate Fit(HourOfDayProfile usual, IReadOnlyList<TemperatureSample> hourlyMeans)
    {
        if (!usual.IsComplete)
        {
            throw new ArgumentException("A spot's temperature cannot be foreseen before every hour of the day was measured.", nameof(usual));
        }

        var residuals = hourlyMeans.Select(hour => (hour.At, Residual: hour.Temperature.Celsius - usual.At(hour.At)!.Value.Mean.Celsius)).ToArray();
        var sums = LagSums.Of(residuals);
        var persistence = sums.Pairs < PairsMin ? UsualPersistence : sums.Persistence;
        var days = Math.Max(1, residuals.Length / 24.0);
        if (sums.Pairs >= PairsMin)
        {
            persistence = Math.Clamp(persistence + (1 + 3 * persistence) / residuals.Length, 0, PersistenceMax);
        }

        // The profile was fitted to the same residuals, which takes one of the days out of their variance.
        var measured = residuals.Length == 0 ? 0 : Math.Sqrt(residuals.Sum(each => each.Residual * each.Residual) / residuals.Length * days / Math.Max(days - 1, 0.5));
        var deviation = days < 2 ? Math.Max(measured, UsualDeviation) : measured;
        return new(usual, persistence, deviation, deviation * Math.Sqrt(Math.Min(1, LevelShare(persistence, days))));
    }

    /// <summary>The residual now: the mean of the last measured hour against the usual day, or null when the history is empty.</summary>
    public static double? ResidualNow(SpotClimate climate, TemperatureSample last) =>
        climate.Usual.At(last.At) is { } hour ? last.Temperature.Celsius - hour.Mean.Celsius : null;

    /// <summary>Variance of the mean of a stationary first-order autoregression over n hours, as a share of its variance: (1+φ)/(1-φ)/n.</summary>
    private static double LevelShare(double persistence, double days) =>
        (1 + persistence) / (1 - persistence) / (days * 24);

    private readonly record struct LagSums(int Pairs, double Cross, double Square)
    {
        public double Persistence => Square > 0 ? Math.Clamp(Cross / Square, 0, PersistenceMax) : 0;

        public static LagSums Of((Instant At, double Residual)[] residuals)
        {
            var (pairs, cross, square) = (0, 0.0, 0.0);
            for (var i = 1; i < residuals.Length; i++)
            {
                if (residuals[i].At - residuals[i - 1].At != Duration.FromHours(1))
                {
                    continue;
                }

                pairs++;
                cross += residuals[i].Residual * residuals[i - 1].Residual;
                square += residuals[i - 1].Residual * residuals[i - 1].Residual;
            }

            return new(pairs, cross, square);
        }
    }
}

using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Forecasts;

/// <summary>Mean and variance of the warm-hours that a wandering temperature adds, carried forward hour by hour.</summary>
internal sealed class WarmthMoments
{
    // Five-point Gauss-Hermite rule for a standard normal variable (M. Abramowitz and I. A. Stegun, 1964, table 25.10, rescaled).
    private static readonly (double Deviate, double Weight)[] Hermite =
    [
        (-2.8569700138728056, 0.011257411327720689),
        (-1.3556261799742659, 0.22207592200561264),
        (0, 0.53333333333333333),
        (1.3556261799742659, 0.22207592200561264),
        (2.8569700138728056, 0.011257411327720689),
    ];

    private readonly CardinalTemperatures cardinals;
    private readonly double persistence;
    private readonly double stationaryVariance;
    private readonly double levelVariance;
    private double residualMean;
    private double residualVariance;
    private double covarianceWithResidual;
    private double covarianceWithLevel;
    private double variance;

    public WarmthMoments(CardinalTemperatures cardinals, SpotClimate climate, double residual)
    {
        this.cardinals = cardinals;
        persistence = climate.Persistence;
        stationaryVariance = climate.Deviation * climate.Deviation;
        levelVariance = climate.LevelDeviation * climate.LevelDeviation;
        residualMean = residual;
    }

    /// <summary>Expected warm-hours so far.</summary>
    public double Mean { get; private set; }

    public double Deviation => Math.Sqrt(Math.Max(variance, 0));

    /// <summary>One hour on, at its usual temperature.</summary>
    public void Step(double usual)
    {
        residualMean *= persistence;
        residualVariance = persistence * persistence * residualVariance + (1 - persistence * persistence) * stationaryVariance;
        var (mean, slope, own) = Hour(usual + residualMean, Math.Sqrt(residualVariance + levelVariance));
        var carried = persistence * covarianceWithResidual;
        Mean += mean;
        variance += 2 * slope * (carried + covarianceWithLevel) + own;
        covarianceWithResidual = carried + slope * residualVariance;
        covarianceWithLevel += slope * levelVariance;
    }

    private (double Mean, double Slope, double Variance) Hour(double centre, double deviation)
    {
        if (deviation == 0)
        {
            return (cardinals.EffectiveWarmth(centre), 0, 0);
        }

        var (mean, square, cross) = (0.0, 0.0, 0.0);
        foreach (var (deviate, weight) in Hermite)
        {
            var warmth = cardinals.EffectiveWarmth(centre + deviation * deviate);
            mean += weight * warmth;
            square += weight * warmth * warmth;
            cross += weight * warmth * deviate;
        }

        // E[E'(X)] = E[E(X) Z]/sd for a normal X, which also serves where E has corners.
        return (mean, cross / deviation, Math.Max(0, square - mean * mean));
    }
}

using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>
/// How many of a batch are up by this many warm-hours: G · Φ((ln W - ln θ50)/σ), the lognormal form of thermal time
/// (R. H. Ellis and P. D. Butcher, J. Exp. Bot. 39 (1988), with the share that never comes up added).
/// The default value is not usable.
/// </summary>
/// <param name="LogHalf">ln θ50, θ50 in °C·h.</param>
/// <param name="Spread">σ, positive.</param>
/// <param name="Germinable">G, 0 to 1: the share that comes up at all.</param>
public readonly record struct EmergenceCurve(double LogHalf, double Spread, double Germinable)
{
    /// <summary>The curve of a crop as its profile stands.</summary>
    public static EmergenceCurve Of(GerminationProfile profile, double germinable) =>
        new(Math.Log(profile.HalfWarmHours.CelsiusHours), profile.Spread, germinable);

    /// <summary>The share of all seeds that is up by this many warm-hours, 0 to 1.</summary>
    public double UpBy(WarmHours warmHours) => Germinable * ShareOfGerminable(warmHours.CelsiusHours);

    /// <summary>The warm-hours at which a share of the germinable seeds is up.</summary>
    /// <param name="share">Above 0, below 1.</param>
    public WarmHours WarmHoursTo(double share) =>
        WarmHours.FromCelsiusHours(Math.Exp(LogHalf + Spread * StandardNormal.Quantile(share)));

    internal double ShareOfGerminable(double celsiusHours) =>
        celsiusHours <= 0 ? 0 : StandardNormal.Cdf((Math.Log(celsiusHours) - LogHalf) / Spread);
}

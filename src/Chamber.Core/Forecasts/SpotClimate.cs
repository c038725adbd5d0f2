using Chamber.Core.Climate;

namespace Chamber.Core.Forecasts;

/// <summary>
/// How the temperature of a spot goes on: its usual day by the hour, and a residual that fades from hour to hour and is
/// pushed again, r(t) = φ r(t-1) + e (a first-order autoregression), with the doubt that a short history leaves about the level.
/// </summary>
/// <param name="Usual">The usual day, every hour of it.</param>
/// <param name="Persistence">φ for an hour, 0 up to below 1.</param>
/// <param name="Deviation">Standard deviation of the residual, K.</param>
/// <param name="LevelDeviation">Standard deviation of what the whole profile may be off by, K.</param>
public sealed record SpotClimate(HourOfDayProfile Usual, double Persistence, double Deviation, double LevelDeviation);

namespace Chamber.Core.Crops;

/// <summary>
/// What the temperatures of a batch leave of the seed that could come up: the mean over measured time of a crop's stand at each
/// temperature, against its best. Sums over two parts add up to the sum over the whole. The default has seen nothing.
/// </summary>
/// <param name="Hours">Measured time, h.</param>
/// <param name="StandHours">That time, each hour weighed by the share it leaves, h.</param>
public readonly record struct StandTally(double Hours, double StandHours)
{
    /// <summary>The share that the temperatures leave, 0 to 1; 1 while nothing was measured.</summary>
    public double Share => Hours > 0 ? Math.Min(1, StandHours / Hours) : 1;

    /// <summary>One straight line of temperature more, by its middle.</summary>
    /// <param name="stand">The crop's stand.</param>
    /// <param name="hours">How long it lasts, h.</param>
    /// <param name="meanCelsius">Its middle, °C.</param>
    public StandTally With(StandCurve stand, double hours, double meanCelsius)
    {
        ArgumentNullException.ThrowIfNull(stand);
        return new(Hours + hours, StandHours + hours * stand.RelativeAt(Climate.Temperature.FromCelsius(meanCelsius)));
    }

    public static StandTally operator +(StandTally one, StandTally other) => one.Add(other);

    public StandTally Add(StandTally other) => new(Hours + other.Hours, StandHours + other.StandHours);
}

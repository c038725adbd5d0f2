using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// How much a spot goes along with the rest of the home at each hour of the day: the slope of its residual on the common one, by least
/// squares that fade over a month, drawn to none while little is known. Weather, heating and open windows move a whole home; what is left
/// is the spot's own. A value: a copy is independent.
/// </summary>
internal struct SharedMovement
{
    private const int MemoryDays = 30;

    // K² of common movement that count as seen without any going along.
    private const double PriorSquare = 0.01;

    // A shift must not pass for how the spot goes along, K.
    private const double ResidualMax = 2;

    private Hours24<double> products;
    private Hours24<double> squares;
    private Hours24<int> days;

    /// <summary>What of a residual the common one explains, K.</summary>
    public readonly double Explained(int hourOfDay, double common) => products[hourOfDay] / (squares[hourOfDay] + PriorSquare) * common;

    public void Learn(int hourOfDay, double residual, double common)
    {
        var share = Math.Max(1.0 / MemoryDays, 1.0 / ++days[hourOfDay]);
        var (own, other) = (Math.Clamp(residual, -ResidualMax, ResidualMax), Math.Clamp(common, -ResidualMax, ResidualMax));
        products[hourOfDay] += share * (own * other - products[hourOfDay]);
        squares[hourOfDay] += share * (other * other - squares[hourOfDay]);
    }
}

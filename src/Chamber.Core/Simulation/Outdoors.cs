using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>The weather before the windows of a flat at 51° north: temperature, vapour and sun on a window to the south.</summary>
internal sealed class Outdoors(Random random, double stepHours)
{
    private const double Latitude = 51 * Math.PI / 180;

    private readonly Wander spell = new(random, deviation: 2.5, memoryHours: 30, stepHours);
    private readonly Wander cloud = new(random, deviation: 1.2, memoryHours: 7, stepHours);

    /// <summary>°C.</summary>
    public double Temperature { get; private set; }

    /// <summary>kPa.</summary>
    public double VapourPressure { get; private set; }

    /// <summary>Direct sun on the window, W/m².</summary>
    public double Sun { get; private set; }

    public void Step(LocalDateTime time)
    {
        spell.Step();
        cloud.Step();
        var clear = 1 / (1 + Math.Exp(cloud.Value * 2));
        var hour = time.Hour + time.Minute / 60.0;
        var season = 10 - 8 * Math.Cos(2 * Math.PI * (time.DayOfYear - 20) / 365);
        Temperature = season + (1 + 3 * clear) * Math.Cos(2 * Math.PI * (hour - 15) / 24) + spell.Value;
        VapourPressure = HumidAir.Saturation(season + spell.Value - 2.5);
        Sun = clear * OnWindow(time.DayOfYear, hour);
    }

    // Declination by Cooper (1969); clock time stands for sun time. The beam loses its strength along the path through the air.
    private static double OnWindow(int day, double hour)
    {
        var declination = 23.45 * Math.PI / 180 * Math.Sin(2 * Math.PI * (284 + day) / 365);
        var angle = Math.PI * (hour - 12) / 12;
        var height = Math.Sin(Latitude) * Math.Sin(declination) + Math.Cos(Latitude) * Math.Cos(declination) * Math.Cos(angle);
        var south = Math.Sin(Latitude) * Math.Cos(declination) * Math.Cos(angle) - Math.Cos(Latitude) * Math.Sin(declination);
        return height <= 0.02 || south <= 0 ? 0 : 1050 * Math.Exp(-0.14 / height) * south;
    }
}

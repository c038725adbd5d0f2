using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>The flat itself: one room temperature, radiators on a timed thermostat, a boiler that also heats water, a freezer.</summary>
internal sealed class Flat(Random random, double stepHours)
{
    private const double LossHours = 40;
    private const double RadiatorsKelvinPerHour = 2.2;
    private const double SunKelvinPerHour = 0.0012;
    private const double ThermostatBand = 0.25;
    private const double VapourFromPeople = 0.4;

    private double hotWaterHours;
    private double compressorHours;

    /// <summary>°C.</summary>
    public double Room { get; private set; } = 18.5;

    /// <summary>kPa.</summary>
    public double VapourPressure { get; private set; } = 0.9;

    public bool Radiators { get; private set; }

    /// <summary>Whether the boiler burns, for the radiators or for hot water.</summary>
    public bool Boiler => Radiators || hotWaterHours > 0;

    public bool Compressor { get; private set; }

    public void Step(LocalDateTime time, Outdoors outdoors)
    {
        var hour = time.Hour + time.Minute / 60.0;
        var wanted = SetPoint(hour, time.DayOfWeek is IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday);
        Radiators = Room < wanted - (Radiators ? -ThermostatBand : ThermostatBand);
        Room += stepHours * ((outdoors.Temperature - Room) / LossHours
            + (Radiators ? RadiatorsKelvinPerHour : 0)
            + SunKelvinPerHour * outdoors.Sun);
        VapourPressure = Math.Min(outdoors.VapourPressure + VapourFromPeople, 0.95 * HumidAir.Saturation(Room));
        HeatWater(hour);
        RunCompressor();
    }

    // A morning and an evening at home; the whole day at weekends.
    private static double SetPoint(double hour, bool weekend) =>
        hour is >= 6 and < 8.5 || (weekend && hour is >= 8.5 and < 17) || hour is >= 17 and < 22.5 ? 20 : 16.5;

    private void HeatWater(double hour)
    {
        hotWaterHours = Math.Max(0, hotWaterHours - stepHours);
        if (hour is (>= 6.25 and < 6.75) or (>= 18.5 and < 19.1) || (hour is >= 7 and < 22 && random.NextDouble() < 0.6 * stepHours))
        {
            hotWaterHours = Math.Max(hotWaterHours, 0.2);
        }
    }

    // The warmer the kitchen, the longer it runs.
    private void RunCompressor()
    {
        compressorHours -= stepHours;
        if (compressorHours <= 0)
        {
            Compressor = !Compressor;
            compressorHours = Compressor ? 0.35 + 0.02 * (Room - 18) : 0.5;
        }
    }
}

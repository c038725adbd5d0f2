using Chamber.Core.Climate;

namespace Chamber.Core.Simulation;

/// <summary>One warm spot as time goes on.</summary>
internal sealed class SpotPhysics
{
    private const double ThermostatBand = 0.8;
    private const double EvaporativeShare = 0.6;
    private const double DryBelow = 0.4;
    private const double WaterAgainBelow = 0.5;
    private const double OpenDryingPerHourAndKilopascal = 0.012;
    private const double LidDryingPerHour = 0.0012;

    private readonly SpotDesign design;
    private readonly double stepHours;
    private readonly double airStep;
    private readonly double mediaStep;

    private double air;
    private double media;
    private double humidity;
    private double wetness = 0.9;
    private bool matOn;

    public SpotPhysics(SpotDesign design, double stepHours, double room)
    {
        this.design = design;
        this.stepHours = stepHours;
        airStep = 1 - Math.Exp(-stepHours / design.AirLagHours);
        mediaStep = 1 - Math.Exp(-stepHours / design.MediaLagHours);
        air = media = room;
    }

    // Under a lid the air lies between the media below and the room's air above.
    public SimulatedClimate Climate => new(
        Temperature.FromCelsius(design.Lid ? (air + media) / 2 : air),
        Temperature.FromCelsius(media),
        RelativeHumidity.FromPercent(humidity),
        wetness);

    public void Step(Flat flat, Outdoors outdoors, int hour)
    {
        air += airStep * (flat.Room + design.AirAboveRoom(flat, outdoors) - air);
        humidity = design.Lid ? 100 - 6 * Math.Max(0, 1 - wetness / 0.8) : HumidAir.RelativePercent(air, flat.VapourPressure);
        media += mediaStep * (air - Evaporative(flat) + MatRise() + design.SunOnMedia * outdoors.Sun - media);
        Dry(flat);
        if (wetness < WaterAgainBelow && hour == 8)
        {
            wetness = 0.9;
        }
    }

    // A wet open surface cools towards the wet-bulb temperature of the air over it; a dry one does not.
    private double Evaporative(Flat flat) => design.Lid
        ? 0
        : EvaporativeShare * Math.Min(1, wetness / DryBelow) * (
            air - HumidAir.WetBulb(air, Math.Min(flat.VapourPressure, HumidAir.Saturation(air))));

    private double MatRise()
    {
        if (design.Mat is not { } mat)
        {
            return 0;
        }

        matOn = mat.SwitchesOffAt is not { } limit || media < limit - (matOn ? 0 : ThermostatBand);
        return matOn ? mat.Rise : 0;
    }

    private void Dry(Flat flat)
    {
        var deficit = Math.Max(0, HumidAir.Saturation(air) - flat.VapourPressure);
        wetness = Math.Max(0.05, wetness - stepHours * (design.Lid ? LidDryingPerHour : OpenDryingPerHourAndKilopascal * deficit));
    }
}

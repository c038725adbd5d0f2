using Chamber.Core.Climate;
using Chamber.Core.Spots;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>A cheap sensor: how often it speaks, how well, and how it goes wrong.</summary>
/// <param name="Probe">As a grower would enter it.</param>
/// <param name="Spot">Where it stays.</param>
/// <param name="Every">Between two readings; a whole number of minutes.</param>
public sealed record SimulatedProbeDesign(Probe Probe, SpotId Spot, Duration Every)
{
    /// <summary>The smallest step that it can show.</summary>
    public double ResolutionKelvins { get; init; } = 0.1;

    /// <summary>Standard deviation of one reading.</summary>
    public double NoiseKelvins { get; init; } = 0.05;

    /// <summary>How much too high it reads.</summary>
    public double OffsetKelvins { get; init; }

    /// <summary>Whether it tells the humidity of the air.</summary>
    public bool Humidity { get; init; }

    /// <summary>Whether it tells the moisture of the media, on its raw scale of 0 to 1000.</summary>
    public bool Moisture { get; init; }

    /// <summary>Whether its payload is in °F. What it says here is in °C all the same.</summary>
    public bool Fahrenheit { get; init; }

    /// <summary>A loose wire from here on: the values that a digital sensor gives when it was not read.</summary>
    public Duration? FailsAfter { get; init; }

    /// <summary>The battery is empty then.</summary>
    public Duration? SilentAfter { get; init; }
}

/// <summary>What a simulated probe says, faults and all.</summary>
/// <param name="Probe">Who says it.</param>
/// <param name="At">When it measured.</param>
/// <param name="Celsius">°C; 85 or -127 while its wire is loose.</param>
/// <param name="HumidityPercent">0 to 100; null when it has no such sensor.</param>
/// <param name="Moisture">0 to 1000 on its own scale; null when it has no such sensor.</param>
/// <param name="BatteryPercent">0 to 100.</param>
public readonly record struct ProbeSaid(ProbeId Probe, Instant At, double Celsius, double? HumidityPercent, double? Moisture,
    double BatteryPercent);

/// <summary>One probe as time goes on.</summary>
internal sealed class SimulatedProbe(SimulatedProbeDesign design, Instant start, Random random)
{
    private const double PowerOnValue = 85;
    private const double DisconnectedValue = -127;
    private const double MoistureDry = 180;
    private const double MoistureSaturated = 910;

    private readonly Duration phase = Duration.FromSeconds(random.Next(60));
    private bool loose;

    public ProbeSaid? Step(SimulatedHome home)
    {
        var age = home.Now - start;
        if (age.TotalMinutes % design.Every.TotalMinutes != 0 || age >= design.SilentAfter)
        {
            return null;
        }

        var climate = home[design.Spot];
        return new(
            design.Probe.Id,
            home.Now + phase,
            Fault(age) ?? Seen(True(climate).Celsius),
            design.Humidity ? Math.Round(Math.Clamp(climate.Humidity.Percent + Normal.Sample(random, 0, 0.4), 0, 100), 1) : null,
            design.Moisture ? Math.Round(MoistureDry + (MoistureSaturated - MoistureDry) * climate.Wetness + Normal.Sample(random, 0, 3))
                : null,
            Battery(age));
    }

    private Temperature True(SimulatedClimate climate) => design.Probe.Measurand == Measurand.Air ? climate.Air : climate.Media;

    private double Seen(double celsius)
    {
        var steps = Math.Round((celsius + design.OffsetKelvins + Normal.Sample(random, 0, design.NoiseKelvins)) / design.ResolutionKelvins);
        return Math.Round(steps * design.ResolutionKelvins, 4);
    }

    // The wire opens and closes: good stretches of hours, bad ones of half an hour.
    private double? Fault(Duration age)
    {
        if (age < design.FailsAfter || design.FailsAfter is null)
        {
            return null;
        }

        loose = random.NextDouble() < (loose ? 0.97 : 0.008);
        return loose ? (random.NextDouble() < 0.7 ? DisconnectedValue : PowerOnValue) : null;
    }

    private double Battery(Duration age) =>
        design.SilentAfter is { } end ? Math.Max(1, Math.Round(60 * (1 - age / end) + 2))
            : Math.Round(Math.Max(40, 96 - age.TotalDays * 0.4));
}

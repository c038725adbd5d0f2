using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>The invented scenario: six warm spots in a shared flat, nine probes on them, and batches from sown today to planted
/// out.</summary>
public static class SharedFlat
{
    private static readonly SpotId BoilerCupboard = new("boiler-cupboard");
    private static readonly SpotId RouterShelf = new("router-shelf");
    private static readonly SpotId MatWithThermostat = new("thermostat-mat");
    private static readonly SpotId PlainMat = new("plain-mat");
    private static readonly SpotId FreezerTop = new("freezer-top");
    private static readonly SpotId SunnySill = new("sunny-sill");

    /// <summary>The spots as a grower would enter them.</summary>
    public static IReadOnlyList<Spot> Spots { get; } = [.. Designs().Select(design => design.Spot)];

    /// <summary>The probes; their gap bounds fit how often each speaks.</summary>
    public static IReadOnlyList<SimulatedProbeDesign> Probes { get; } =
    [
        new(Probe("boiler-mix", Measurand.Media), BoilerCupboard, Seconds(120)),
        new(Probe("boiler-air", Measurand.Air), BoilerCupboard, Seconds(180)) { Humidity = true, Fahrenheit = true,
            ResolutionKelvins = 0.05 },
        new(Probe("router-towel", Measurand.OutsideSurface), RouterShelf, Seconds(120)) { OffsetKelvins = 0.3 },
        new(Probe("mat-mix", Measurand.Media), MatWithThermostat, Seconds(60)) { Moisture = true },
        new(Probe("mat-lid", Measurand.Air), MatWithThermostat, Seconds(300)) { Humidity = true },
        new(Probe("plain-mat-mix", Measurand.Media), PlainMat, Seconds(120)),
        new(Probe("freezer-mix", Measurand.Media), FreezerTop, Seconds(60)) { ResolutionKelvins = 0.0625,
            FailsAfter = Duration.FromDays(11) },
        new(Probe("sill-air", Measurand.Air), SunnySill, Seconds(300)) { Humidity = true, SilentAfter = Duration.FromDays(13) },
        new(Probe("sill-mix", Measurand.Media), SunnySill, Seconds(120)) { Moisture = true },
    ];

    /// <summary>
    /// What was sown. L1 is the ordinary mistake, lettuce on an uncontrolled mat; S1 was sown today; T1 came from warm and dark to the
    /// light; R1 is planted out. Those in pots and outdoors by day are <see cref="FlatGrownBatches"/>.
    /// </summary>
    public static IReadOnlyList<SimulatedBatchDesign> Batches { get; } =
    [
        new(new("T1"), new("tomato"), SowingMethod.CoveredMix, 12, Days(12), BoilerCupboard, 0.85, 1.05)
        {
            Lot = new("tomato-own"),
            Moved = (SunnySill, Days(2.4)),
            Stages = [(StageKind.Uncovered, Days(4.6), null), (StageKind.MovedToLight, Days(2.4), 9)],
            Lost = [(LossCause.Leggy, Days(1.3), 1)],
        },
        new(new("B1"), new("basil"), SowingMethod.OpenMix, 20, Days(7.6), MatWithThermostat, 0.8, 1.0) { Lot = new("basil-pot") },
        new(new("P1"), new("pepper-sweet"), SowingMethod.CoveredMix, 10, Days(8.5), MatWithThermostat, 0.75,
            1.1) { Lot = new("pepper-24") },
        new(new("C1"), new("broccoli"), SowingMethod.DampTowel, 14, Days(4.6), RouterShelf, 0.9, 0.75) { Lot = new("broccoli-shop") },
        new(new("L1"), new("lettuce"), SowingMethod.OpenMix, 16, Days(9.3), PlainMat, 0.1, 1.0) { Lot = new("lettuce-gift") },
        new(new("O1"), new("onion"), SowingMethod.CoveredMix, 30, Days(7.4), FreezerTop, 0.8, 1.0) { Lot = new("onion-old") },
        new(new("R1"), new("radish"), SowingMethod.CoveredMix, 15, Days(12.6), SunnySill, 0.9, 1.0)
        {
            Lot = new("radish-24"),
            Stages = [(StageKind.Uncovered, Days(8), null), (StageKind.HardeningOff, Days(5), null), (StageKind.PlantedOut, Days(3.4), 10)],
            Lost = [(LossCause.Eaten, Days(3.5), 2)],
            Ended = Days(3.3),
        },
        new(new("S1"), new("celery"), SowingMethod.OpenMix, 40, Days(0.2), SunnySill, 0.7, 1.0) { Lot = new("celery-gift") },
    ];

    /// <summary>When a batch is to go out, counted from when the viewer comes in.</summary>
    public static IReadOnlyList<(BatchId Batch, int Days)> PlantingOut { get; } =
        [(new("T1"), 32), (new("B1"), 40), (new("P1"), 46), (new("O1"), 58)];

    internal static IReadOnlyList<SpotDesign> SpotDesigns { get; } = [.. Designs()];

    private static IEnumerable<SpotDesign> Designs() =>
    [
        new(new(BoilerCupboard, SpotKind.BoilerCupboard, LightLevel.Dark, 4),
            (flat, _) => flat.Boiler ? 11 : 2, AirLagHours: 0.9, MediaLagHours: 2, Lid: true),
        new(new(RouterShelf, SpotKind.Electronics, LightLevel.Dim, 1),
            (_, _) => 5.5, AirLagHours: 0.4, MediaLagHours: 0.4, Lid: true),
        new(new(MatWithThermostat, SpotKind.HeatMat, LightLevel.Bright, 3),
            (_, _) => 0.5, AirLagHours: 0.3, MediaLagHours: 1.6, Lid: true, Mat: new(14, SwitchesOffAt: 27.4)),
        new(new(PlainMat, SpotKind.HeatMat, LightLevel.Dim, 2),
            (_, _) => 0.5, AirLagHours: 0.3, MediaLagHours: 2, Lid: true, Mat: new(14.5, SwitchesOffAt: null)),
        new(new(FreezerTop, SpotKind.ApplianceTop, LightLevel.Dim, 2),
            (flat, _) => flat.Compressor ? 4.5 : 1.5, AirLagHours: 0.3, MediaLagHours: 1.5, Lid: false),
        new(new(SunnySill, SpotKind.Sill, LightLevel.Bright, 5),
            (flat, outdoors) => 0.2 * (outdoors.Temperature - flat.Room) + 0.012 * outdoors.Sun, AirLagHours: 0.4, MediaLagHours: 1.2,
                Lid: true, SunOnMedia: 0.022),
    ];

    private static Probe Probe(string id, Measurand measurand) => new(new(id), measurand, Climate.Probe.DefaultMaxGap);

    private static Duration Days(double days) => Duration.FromDays(days);

    private static Duration Seconds(int seconds) => Duration.FromSeconds(seconds);
}

using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Alerts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Homes;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Facts.Whole;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Testing;

/// <summary>Draws what somebody could do in an invented home, sensible or not: the fold says which of it can be.</summary>
public sealed class SomeHome(Random random)
{
    public static readonly Instant Start = Instant.FromUtc(2027, 2, 1, 7, 0);

    private static readonly string[] Crops = ["tomato", "basil"];

    private Instant now = Start;

    /// <summary>When the last fact was drawn.</summary>
    public Instant Now => now;

    /// <summary>Any fact, some time after the one before.</summary>
    public DatedFact Next()
    {
        now += Duration.FromMinutes(random.Next(1, 600));
        var at = random.Next(4) == 0 ? now - Duration.FromHours(random.Next(1, 72)) : now;
        return AnyFact().At(at);
    }

    /// <summary>The same fact with a slip in it.</summary>
    public DatedFact Slip(DatedFact right) => right.Fact switch
    {
        BatchLooked look when random.Next(2) == 0 => (look with { Up = Math.Max(0, look.Up + random.Next(-2, 3)) }).At(right.At),
        BatchSown sown => (sown with { Seeds = sown.Seeds + random.Next(1, 9), Crop = random.Next(3) == 0 ? Crop()
            : sown.Crop }).At(right.At),
        BatchMoved moved => (moved with { Spot = Spot() }).At(right.At),
        LotNoted lot => (lot with { Year = 2020, Note = "wrong" }).At(right.At),
        PlantsLost lost => (lost with { Cause = LossCause.Cold }).At(right.At),
        SpotSetUp spot => (spot with { Room = random.Next(1, 9) }).At(right.At),
        ProbePlaced placed => (placed with { Spot = Spot() }).At(right.At),
        var fact => fact.At(right.At + Duration.FromMinutes(random.Next(-90, 90))),
    };

    private Fact AnyFact() => random.Next(20) switch
    {
        0 => new SpotSetUp(Spot(), Any<SpotKind>(), Any<LightLevel>(), random.Next(1, 4)),
        1 => new SpotSetUp(Spot(), Light: Any<LightLevel>()),
        2 => new ProbeSetUp(Probe(), Any<Measurand>(), HandRead: random.Next(2) == 0),
        3 => new ProbePlaced(Probe(), Spot()),
        4 => new ProbeTakenAway(Probe()),
        5 => new ProbeCalibrated(Probe(), TemperatureDifference.FromKelvins(random.Next(-3, 4))),
        6 => new LotNoted(Lot(), Crop(), random.Next(20, 100), Year: random.Next(2020, 2027)),
        7 => random.Next(2) == 0 ? new SeedsCounted(Lot(), random.Next(100)) : new LotNoted(Lot(), Note: "found it",
            Forgotten: LotParts.Year),
        8 or 9 or 10 => new BatchSown(Batch(), Crop(), Any<SowingMethod>(), random.Next(5, 20), random.Next(2) == 0 ? Lot() : null, Spot(),
            DepthMillimetres: random.Next(2) == 0 ? random.Next(0, 60) : null),
        11 or 12 or 13 => new BatchLooked(Batch(), random.Next(8), Moisture: random.Next(3) == 0 ? Any<LookMoisture>() : null),
        14 => new BatchMoved(Batch(), Spot()),
        15 => new StageDone(Batch(), Any<StageKind>(), random.Next(3) == 0 ? random.Next(1, 5) : null, Spot: random.Next(3) == 0
            ? Spot() : null),
        16 => new PlantsLost(Batch(), random.Next(1, 3), Any<LossCause>()),
        17 when random.Next(3) == 0 => random.Next(2) == 0 ? new PhotoTaken(Batch(), Photo())
            : new PhotoMarked(Batch(), Photo(), Marks()),
        17 => random.Next(2) == 0 ? new BatchWetted(Batch()) : new BatchEnded(Batch()),
        18 => random.Next(3) switch
        {
            0 => new LotTested(Lot(), 10, random.Next(11)),
            1 => new PlantingOutPlanned(Batch(), new(2027, random.Next(4, 8), 3)),
            _ => new ReadingsSetAside(Probe(), now + Duration.FromHours(1), "spilt"),
        },
        _ => random.Next(11) switch
        {
            6 => new Noted("moved the lamp", Batch: Batch()),
            7 => new Noted("door left open", Spot: Spot()),
            8 => new LimitsChosen(random.Next(2) == 0 ? random.Next(25, 40) : null, random.Next(5, 24), Spot: Spot()),
            9 => new LimitsChosen(TooCold: random.Next(2) == 0 ? random.Next(5, 24) : null, Batch: Batch()),
            0 => new WorkPlanned(now + Duration.FromHours(4), random.Next(2) == 0 ? Spot() : null),
            1 => new SettingChosen("season-plan", $"{random.Next(3)}"),
            2 => new CropNoted(Crop(), "{}"),
            3 => new AlertSeen("TooCold", FactSubject.Of(Spot()), "Ana"),
            4 => new BatchRenamed(Batch(), Batch()),
            10 => new ShownAs(FactSubject.Of(Spot()), random.Next(3) == 0 ? null : "Küche, oben"),
            _ => new SpotRenamed(Spot(), Spot()),
        },
    };

    private string Photo() => $"photo-{random.Next(3)}.jpg";

    private PhotoMarks Marks() =>
        new(Enumerable.Range(1, random.Next(6)).Select(number => new PhotoMark(number, random.NextDouble(), random.NextDouble())));

    private SpotId Spot() => new($"spot-{random.Next(4)}");

    private ProbeId Probe() => new($"probe-{random.Next(3)}");

    private LotId Lot() => new($"lot-{random.Next(3)}");

    private BatchId Batch() => new($"B{random.Next(6)}");

    private CropId Crop() => new(Crops[random.Next(Crops.Length)]);

    private T Any<T>()
        where T : struct, Enum => Enum.GetValues<T>()[random.Next(Enum.GetValues<T>().Length)];
}

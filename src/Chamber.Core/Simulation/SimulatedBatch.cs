using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>A sowing in the scenario, with what only the simulation knows: how good and how quick the seed really is.</summary>
/// <param name="Id">As on its stick.</param>
/// <param name="Crop">What was sown.</param>
/// <param name="Method">How.</param>
/// <param name="Seeds">How many.</param>
/// <param name="Sown">How long before the story opens; negative is not allowed.</param>
/// <param name="Spot">Where it was put.</param>
/// <param name="GerminableShare">The share of the seeds that can come up at all, 0 to 1.</param>
/// <param name="SlownessFactor">Warm-hours that it really needs, as a multiple of the crop's.</param>
public sealed record SimulatedBatchDesign(
    BatchId Id,
    CropId Crop,
    SowingMethod Method,
    int Seeds,
    Duration Sown,
    SpotId Spot,
    double GerminableShare,
    double SlownessFactor)
{
    /// <summary>Where it was moved to later, and how long before the story opens; null when it stayed.</summary>
    public (SpotId Spot, Duration Before)? Moved { get; init; }

    /// <summary>How long before the story opens it was planted out or given up; null while it stands.</summary>
    public Duration? Ended { get; init; }

    /// <summary>The lot the seeds come from.</summary>
    public LotId? Lot { get; init; }

    /// <summary>What was done, how long before the story opens, and to how many plants; null when nobody counted.</summary>
    public IReadOnlyList<(StageKind Kind, Duration Before, int? Plants)> Stages { get; init; } = [];

    /// <summary>Plants lost, how long before the story opens.</summary>
    public IReadOnlyList<(LossCause Cause, Duration Before, int Plants)> Lost { get; init; } = [];
}

/// <summary>The seeds of a batch as time goes on, and the flatmate who looks at them morning and evening, mostly.</summary>
internal sealed class SimulatedBatch
{
    private const double LookChance = 0.8;
    private static readonly int[] LookHours = [8, 19];

    private readonly SimulatedBatchDesign design;
    private readonly Instant opens;
    private readonly DateTimeZone zone;
    private readonly Random random;
    private readonly WarmthTally warmth;
    private readonly double[] needed;
    private int seen;
    private Instant nextLook;

    public SimulatedBatch(SimulatedBatchDesign design, Crop crop, Instant opens, DateTimeZone zone, Random random)
    {
        this.design = design;
        this.opens = opens;
        this.zone = zone;
        this.random = random;
        warmth = new(new(crop.Profile.Cardinals, crop.CoolLimit, crop.HotLimit), Probe.DefaultMaxGap);
        needed = [.. Enumerable.Range(0, design.Seeds).Select(_ => Needed(crop))];
        nextLook = LookAfter(SownAt + Duration.FromHours(18));
    }

    private Instant SownAt => opens - design.Sown;

    /// <summary>The look that the flatmate takes in this minute, if any.</summary>
    public Look? Step(SimulatedHome home)
    {
        if (home.Now < SownAt || home.Now >= opens - design.Ended)
        {
            return null;
        }

        warmth.Add(home.Now, home[SpotAt(home.Now)].Media);
        if (home.Now < nextLook)
        {
            return null;
        }

        nextLook = LookAfter(home.Now + Duration.FromHours(1));
        var isOver = seen == needed.Count(double.IsFinite) && seen > 0;
        return isOver || random.NextDouble() > LookChance ? null
            : new Look(home.Now, seen = needed.Count(warmHours => warmHours <= warmth.Measured.CelsiusHours));
    }

    // Lognormal in warm-hours among the seeds that can come up; never among the others.
    private double Needed(Crop crop)
    {
        var quantile = Normal.Sample(random, 0, 1);
        return random.NextDouble() < design.GerminableShare
            ? crop.Profile.HalfWarmHours.CelsiusHours * design.SlownessFactor * Math.Exp(crop.Profile.Spread * quantile)
            : double.PositiveInfinity;
    }

    private SpotId SpotAt(Instant now) => design.Moved is { } moved && now >= opens - moved.Before ? moved.Spot : design.Spot;

    private Instant LookAfter(Instant after)
    {
        var local = after.InZone(zone).LocalDateTime;
        var hour = LookHours.FirstOrDefault(candidate => candidate > local.Hour, -1);
        var date = hour < 0 ? local.Date.PlusDays(1) : local.Date;
        var time = date.At(new LocalTime(hour < 0 ? LookHours[0] : hour, random.Next(60)));
        return time.InZoneLeniently(zone).ToInstant();
    }
}

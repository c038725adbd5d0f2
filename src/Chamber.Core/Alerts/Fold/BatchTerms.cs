using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Folding;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A batch as it stands at a location, with what its crop asks for: all that is judged by, compared by value.</summary>
/// <param name="Id">Which batch.</param>
/// <param name="Crop">Its crop.</param>
/// <param name="Cardinals">The temperatures of its progress.</param>
/// <param name="CoolLimit">Below it the crop takes twice as long as at its fastest.</param>
/// <param name="HotLimit">Above it fewer come up.</param>
/// <param name="GrowingDay">Where its seedlings do best by day; null where that is not known.</param>
/// <param name="Stand">The share that comes up by temperature.</param>
/// <param name="Method">How it was sown.</param>
/// <param name="HasCover">Whether it was sown under a cover.</param>
/// <param name="SownAt">When.</param>
/// <param name="Light">The light of the spot.</param>
/// <param name="Before">How it stood when it came here, by the facts alone.</param>
internal sealed record BatchTerms(
    BatchId Id,
    CropId Crop,
    CardinalTemperatures Cardinals,
    Temperature CoolLimit,
    Temperature HotLimit,
    TemperatureBand? GrowingDay,
    StandCurve Stand,
    SowingMethod Method,
    bool HasCover,
    Instant SownAt,
    LightLevel Light,
    BatchStanding Before)
{
    /// <summary>Up to this temperature its seed sleeps as it needs to, and loses nothing; null for seed that needs no chill.</summary>
    public Temperature? RestsTo { get; init; }

    /// <summary>Too hot above it by somebody's own word, °C; null as the crop has it.</summary>
    public double? OwnHot { get; init; }

    /// <summary>Too cold below it by somebody's own word, °C; null as the crop has it.</summary>
    public double? OwnCold { get; init; }

    public static BatchTerms Of(WatchedBatch watched, LightLevel light, (double? Hot, double? Cold) own, BatchStanding before) => new(
        watched.Batch.Id, watched.Crop.Id, watched.Crop.Profile.Cardinals, watched.Crop.CoolLimit, watched.Crop.HotLimit,
        watched.Crop.Guide?.GrowingDay, watched.Crop.Stand, watched.Batch.Method, watched.HasCover, watched.Batch.SownAt, light, before)
        { RestsTo = watched.Crop.Chill?.Band?.High, OwnHot = own.Hot, OwnCold = own.Cold };
}

/// <summary>How a batch stood when it came to a location, by the facts alone.</summary>
/// <param name="Up">How many were up.</param>
/// <param name="FirstUpAt">When somebody first saw one up; null while nobody had.</param>
/// <param name="IsUncovered">Whether its cover was off.</param>
internal readonly record struct BatchStanding(int Up, Moment? FirstUpAt, bool IsUncovered);

/// <summary>
/// What a batch takes along when it leaves a location: the alerts about it that are open, and what it has been through there by each
/// condition. A move from one dark shelf to another helps nobody, so that the next location goes on where this one ended.
/// </summary>
/// <param name="Batch">Which batch.</param>
/// <param name="At">When it left.</param>
/// <param name="IsUncovered">Whether its cover is off, be it that dry air showed it.</param>
/// <param name="Stand">What its temperatures have left of its seed so far.</param>
/// <param name="States">What conditions know of it.</param>
/// <param name="Alerts">The open alerts about it.</param>
internal sealed record BatchDeparture(BatchId Batch, Moment At, bool IsUncovered, StandTally Stand, ValueList<CarriedState> States,
    ValueList<CarriedAlert> Alerts);

/// <summary>What a condition knows of a batch that moves on.</summary>
internal abstract record CarriedState;

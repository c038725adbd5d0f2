using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Needs;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;
using Chamber.Core.Water;

namespace Chamber.Core.Diagnosis;

/// <summary>How far a batch has come, for a diagnosis.</summary>
public enum BatchPhase
{
    /// <summary>Seeds may still come up.</summary>
    Waiting,

    /// <summary>The day to stop waiting has come, but nobody has looked lately: silence that nobody saw proves nothing.</summary>
    Unseen,

    /// <summary>Somebody looked on the day to stop waiting or later: one more seedling is unlikely.</summary>
    Due,

    /// <summary>It has ended.</summary>
    Over,
}

/// <summary>What went wrong with water.</summary>
public enum WaterTrouble
{
    None,
    TooWet,
    DriedOut,
    Mould,
}

/// <summary>All that a diagnosis of a batch is drawn from.</summary>
public sealed record BatchCase
{
    public required Crop Crop { get; init; }

    /// <summary>How the diagnosis puts temperatures.</summary>
    public TemperatureScale Scale { get; init; }

    /// <summary>How many came up of how many.</summary>
    public required SeedCount Count { get; init; }

    /// <summary>What was believed of the lot before this batch.</summary>
    public required ShareBelief Lot { get; init; }

    /// <summary>Whether tests or other batches stand behind that, not only the year on the packet.</summary>
    public bool LotTested { get; init; }

    /// <summary>Whether the seed is so old, for where it is kept, that half of a usual lot would be dead.</summary>
    public bool PastLife { get; init; }

    public bool Treated { get; init; }

    /// <summary>How far it has come.</summary>
    public BatchPhase Phase { get; init; } = BatchPhase.Over;

    /// <summary>What the batch went through until it was up, or until now.</summary>
    public required HoursSeen Hours { get; init; }

    /// <summary>The share of sound seed that the temperatures left until the first was seen, or until now; 0 to 1.</summary>
    public double StandShare { get; init; } = 1;

    /// <summary>What the spot has in store where it is now; null when that is not known or it has ended.</summary>
    public SpotAhead? Ahead { get; init; }

    /// <summary>How many are expected in all from what is known now; null when that cannot be said.</summary>
    public double? ExpectedUp { get; init; }

    /// <summary>Whether half of its seeds will not have had the warmth they need within three weeks from now.</summary>
    public bool IsSlow { get; init; }

    /// <summary>Whether the spot as it is would not bring it up within ten years.</summary>
    public bool IsNever { get; init; }

    /// <summary>Days to the first as forecast at sowing: 80 % interval; null without a forecast.</summary>
    public (double Low, double High)? ForecastDays { get; init; }

    /// <summary>Days between which the first came up; no second number while nothing is up.</summary>
    public (double After, double? By) SeenDays { get; init; }

    /// <summary>Days since somebody looked, or since the sowing when nobody has.</summary>
    public double UnseenDays { get; init; }

    /// <summary>Whether anybody ever looked.</summary>
    public bool WasSeen { get; init; } = true;

    /// <summary>Hours warm and out of the light after the first was seen.</summary>
    public double WarmDarkHours { get; init; }

    /// <summary>Whether it is in the light now.</summary>
    public bool IsInLight { get; init; }

    /// <summary>Plants lost after they came up.</summary>
    public IReadOnlyList<Loss> Losses { get; init; } = [];

    /// <summary>Whether a light-needing seed stood dark.</summary>
    public bool WrongLight { get; init; }

    /// <summary>How far its moist chill is; null for a crop that wants none.</summary>
    public ChillState? Chill { get; init; }

    /// <summary>Whether somebody, or a probe, noted mould, standing water or drying out.</summary>
    public WaterTrouble Water { get; init; }

    /// <summary>Whether the dryness or a dead lot explains the count, where it lay dry; null otherwise.</summary>
    public DryOrOld? Dry { get; init; }

    /// <summary>The share that was expected of this lot at these temperatures, 0 to 1.</summary>
    public double Expected => Lot.Mean * StandShare;

    /// <summary>The share of its time without a reading, 0 to 1.</summary>
    public double UnknownShare => Hours.UnknownHours <= 0 ? 0 : Hours.UnknownHours / (Hours.UnknownHours + Hours.MeasuredHours);

    /// <summary>The share of its measured time below the crop's cool limit, 0 to 1.</summary>
    public double CoolShare => Hours.MeasuredHours <= 0 ? 0 : Hours.HoursBelow / Hours.MeasuredHours;

    /// <summary>Plants lost after they came up, those thinned on purpose left out.</summary>
    public int LostAfter => Losses.Where(loss => loss.Cause != LossCause.Thinned).Sum(loss => loss.Plants);

    /// <summary>Whether waiting for it has ended.</summary>
    public bool IsOver => Phase is BatchPhase.Due or BatchPhase.Over;
}

using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;

namespace Chamber.Core.Reviews;

/// <summary>All that a verdict on a batch is drawn from.</summary>
public sealed record BatchFacts
{
    public required Crop Crop { get; init; }

    /// <summary>How the verdict puts temperatures.</summary>
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

    /// <summary>What the batch went through until it was up, or until now.</summary>
    public required HoursSeen Hours { get; init; }

    /// <summary>The share that the temperatures left possible, of the best; 0 to 1.</summary>
    public double StandShare { get; init; } = 1;

    /// <summary>Days to the first as forecast at sowing: 80 % interval; null without a forecast.</summary>
    public (double Low, double High)? ForecastDays { get; init; }

    /// <summary>Days between which the first came up; no second number while nothing is up.</summary>
    public (double After, double? By) SeenDays { get; init; }

    /// <summary>Whether looking goes on.</summary>
    public bool IsOver { get; init; } = true;

    /// <summary>Hours warm and out of the light after the first was seen.</summary>
    public double WarmDarkHours { get; init; }

    /// <summary>Plants lost after they came up.</summary>
    public IReadOnlyList<Loss> Losses { get; init; } = [];

    /// <summary>Whether a light-needing seed stood dark, or one that wants dark stood open.</summary>
    public bool WrongLight { get; init; }

    /// <summary>Whether somebody, or a probe, noted mould, standing water or drying out.</summary>
    public WaterTrouble Water { get; init; }
}

/// <summary>What went wrong with water.</summary>
public enum WaterTrouble
{
    None,
    TooWet,
    DriedOut,
    Mould,
}

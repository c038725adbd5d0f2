using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What a batch shares with others: crop, method and lot.</summary>
/// <param name="Crop">The crop's name.</param>
/// <param name="Profile">The crop's profile, the table that factors are relative to.</param>
/// <param name="Method">How it was sown.</param>
/// <param name="Lot">Where the seeds came from, where that is known.</param>
public sealed record BatchKind(CropId Crop, GerminationProfile Profile, SowingMethod Method, LotId? Lot)
{
    /// <summary>What people call the crop; its name in the catalog where that is not known.</summary>
    public string CropName { get => field ?? Crop.Text; init; }

    /// <summary>The botanical family, which shares what the tables have wrong about it; null where that is not known.</summary>
    public string? Family { get; init; }

    /// <summary>What kind of spot it stands on; null where that is not known. Only other homes' batches tell what it does.</summary>
    public SpotKind? Spot { get; init; }

    /// <summary>How old its seed is, in years, 0 or more; null where that is not known. Likewise.</summary>
    public double? SeedYears { get; init; }

    /// <summary>By how much ln of its warm-hours to half changes for each kelvin that the crop's base truly lies higher than the table's,
    /// 1/K; 0 at the temperature at which the table is known best, or where the temperature is not known.</summary>
    public double PerBaseKelvin { get; init; }

    /// <summary>The same where a batch stands: with the spread that its temperature has, and what a higher base would do there.</summary>
    /// <param name="perBaseKelvin"><see cref="PerBaseKelvin"/>.</param>
    /// <param name="stood">The mean temperature.</param>
    public BatchKind At(double perBaseKelvin, Temperature stood) =>
        this with { PerBaseKelvin = perBaseKelvin, Profile = Profile.At(stood) };

    /// <summary>The kind of a batch: roots and shoots, and shoots from different depths, are each measured against their own
    /// numbers.</summary>
    public static BatchKind Of(Batch batch, Crop crop)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return Of(batch, RootAndShoot.Profile(crop, batch.Method, batch.DepthMillimetres)) with
        {
            CropName = crop.CommonName,
            Family = CropFamilies.Of(crop),
        };
    }

    /// <summary>The kind of a batch of a crop.</summary>
    public static BatchKind Of(Batch batch, GerminationProfile profile) => new(batch.Crop, profile, batch.Method, batch.Lot);
}

/// <summary>What one batch has shown, as far as it goes.</summary>
/// <param name="Id">Which batch.</param>
/// <param name="Kind">What it shares with others.</param>
/// <param name="Seen">Its looks in warm-hours.</param>
/// <param name="Germinable">What was believed of its germinable share at the sowing.</param>
/// <param name="SownAt">When it was sown.</param>
/// <param name="LastLookAt">When its last look was; null without one.</param>
public sealed record BatchEvidence(
    BatchId Id,
    BatchKind Kind,
    SeenCounts Seen,
    ShareBelief Germinable,
    Instant SownAt,
    Instant? LastLookAt)
{
    /// <summary>At which temperature it stood on the mean; null where that is not known.</summary>
    public Temperature? Stood { get; init; }
}

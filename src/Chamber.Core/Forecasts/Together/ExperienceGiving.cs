using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;

namespace Chamber.Core.Forecasts.Together;

/// <summary>What a home can give of its ended batches.</summary>
public static class ExperienceGiving
{
    /// <summary>Rounded to a hundredth, which is finer than any batch tells, so that no number is a fingerprint.</summary>
    private const int Digits = 2;

    /// <summary>What a home gives: of its newest batches <see cref="Bounds.ExperienceBatches"/> at most, in an order that tells no
    /// day.</summary>
    /// <param name="home">The random name under which it gives.</param>
    /// <param name="ended">Its ended batches, with kind of spot and age of seed where they are known.</param>
    /// <param name="catalog">The home's crops: one with numbers of the user's own is not given, since nobody else has them.</param>
    public static HomeExperience Of(string home, IEnumerable<BatchEvidence> ended, CropCatalog catalog)
    {
        ArgumentNullException.ThrowIfNull(catalog);
        var told = ended.OrderByDescending(batch => batch.SownAt).Select(batch => (batch.Kind, Row: Row(batch, catalog)))
            .Where(each => each.Row is not null).Take((int)Bounds.ExperienceBatches.High)
            .OrderBy(each => each.Row!.Crop.Text, StringComparer.Ordinal).ThenBy(each => each.Row!.Method).ThenBy(each => each.Row!.Spot)
            .ThenBy(each => each.Row!.SeedYears).ThenBy(each => each.Row!.Speed.Shift).ToList();
        LotId[] lots = [.. told.Select(each => each.Kind.Lot).OfType<LotId>().Distinct()];
        return new(home, [.. told.Select(each =>
            each.Row! with { Lot = each.Kind.Lot is { } lot ? Array.IndexOf(lots, lot) + 1 : null })]);
    }

    private static BatchExperience? Row(BatchEvidence batch, CropCatalog catalog)
    {
        var kind = batch.Kind;
        if (catalog.Find(kind.Crop) is not { } crop || CropCatalog.Shipped.Find(kind.Crop) is not { } shipped
            || crop.Profile.HalfWarmHours != shipped.Profile.HalfWarmHours || crop.Profile.Cardinals != shipped.Profile.Cardinals
            || BatchCurve.Of(batch).Alone() is not { } alone)
        {
            return null;
        }

        return new(kind.Crop, Math.Round(shipped.Profile.HalfWarmHours.CelsiusHours, Digits),
            Math.Round(shipped.Profile.Cardinals.Base.Celsius, Digits), kind.Method)
        {
            Spot = kind.Spot,
            SeedYears = kind.SeedYears is { } years ? (int)Within(Bounds.SeedYears, Math.Round(years)) : null,
            PerBaseKelvin = Within(Bounds.ExperiencePerKelvin, kind.PerBaseKelvin),
            Speed = new(Within(Bounds.ExperienceShift, alone.Mean), Within(Bounds.ExperienceDoubt, alone.Deviation)),
        };
    }

    private static double Within(Bound bound, double value) => Math.Clamp(Math.Round(value, Digits), bound.Low, bound.High);
}

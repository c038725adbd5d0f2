using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>
/// Whether everything that was recorded of a thing lies within <see cref="Bounds"/>: one sentence with the fix for the first that
/// doesn't, otherwise null. What is to be stored is refused by it, and what lies in a file all the same is left out by it.
/// </summary>
public static class WithinBounds
{
    /// <summary>A batch's own numbers; looks, stages and losses have their own.</summary>
    public static string? WhyNot(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return Bounds.Seeds.WhyNot(batch.Seeds)
            ?? Bounds.Containers.WhyNot(batch.Containers)
            ?? WhyNot(batch.SownAt)
            ?? WhyNot(batch.EndedAt)
            ?? (batch.DepthMillimetres is { } depth ? Bounds.Depth.WhyNot(depth) : null)
            ?? Bounds.Treatment.WhyNot(batch.Treatment);
    }

    /// <summary>A batch with everything that was seen of it and done to it.</summary>
    public static string? WhyNotWhole(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return WhyNot(batch)
            ?? batch.Stays.Select(stay => WhyNot(stay.When)).FirstOrDefault(why => why is not null)
            ?? batch.Looks.Select(WhyNot).FirstOrDefault(why => why is not null)
            ?? batch.Stages.Select(WhyNot).FirstOrDefault(why => why is not null)
            ?? batch.Losses.Select(WhyNot).FirstOrDefault(why => why is not null)
            ?? batch.Photos.Select(WhyNot).FirstOrDefault(why => why is not null)
            ?? batch.Wettings.Select(WhyNot).FirstOrDefault(why => why is not null);
    }

    /// <summary>A look at a batch.</summary>
    public static string? WhyNot(Look look)
    {
        ArgumentNullException.ThrowIfNull(look);
        return WhyNot(look.At) ?? Bounds.Note.WhyNot(look.Note);
    }

    /// <summary>A photo of a batch: its name and its note.</summary>
    public static string? WhyNot(BatchPhoto photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        return WhyNot(photo.At) ?? Bounds.Note.WhyNot(photo.Note) ?? Bounds.PhotoName.WhyNot(photo.Name);
    }

    /// <summary>What was done to a batch.</summary>
    public static string? WhyNot(Stage stage)
    {
        ArgumentNullException.ThrowIfNull(stage);
        return WhyNot(stage.At) ?? (stage.Plants is { } plants ? Bounds.Seeds.WhyNot(plants) : null) ?? Bounds.Note.WhyNot(stage.Note);
    }

    /// <summary>Plants that were lost.</summary>
    public static string? WhyNot(Loss loss)
    {
        ArgumentNullException.ThrowIfNull(loss);
        return WhyNot(loss.At) ?? Bounds.Seeds.WhyNot(loss.Plants) ?? Bounds.Note.WhyNot(loss.Note);
    }

    public static string? WhyNot(Lot lot)
    {
        ArgumentNullException.ThrowIfNull(lot);
        return Bounds.SeedsOfLot.WhyNot(lot.Counted)
            ?? (lot.Bought is { } bought ? Bounds.SeedsOfLot.WhyNot(bought) : null)
            ?? (lot.Year is { } year ? Bounds.LotYear.WhyNot(year) : null)
            ?? (lot.Price is { } price ? Bounds.Price.WhyNot(price) : null)
            ?? (lot.StatedShare is { } share ? Bounds.Share.WhyNot(share) : null)
            ?? WhyNot(lot.CountedAt)
            ?? Bounds.Variety.WhyNot(lot.Variety)
            ?? Bounds.Note.WhyNot(lot.Note);
    }

    public static string? WhyNot(LotTest test)
    {
        ArgumentNullException.ThrowIfNull(test);
        return Bounds.SeedsCounted.WhyNot(test.Seeds) ?? WhyNot(test.StartedAt) ?? WhyNot(test.CalledAt) ?? Bounds.Note.WhyNot(test.Note);
    }

    public static string? WhyNot(Spot spot)
    {
        ArgumentNullException.ThrowIfNull(spot);
        return Bounds.Room.WhyNot(spot.Room);
    }

    public static string? WhyNot(Probe probe)
    {
        ArgumentNullException.ThrowIfNull(probe);
        return Bounds.MaxGap.WhyNot(probe.MaxGap);
    }

    /// <summary>What was found of a probe's errors.</summary>
    public static string? WhyNot(Calibration calibration)
    {
        ArgumentNullException.ThrowIfNull(calibration);
        return Bounds.OffsetKelvins.WhyNot(calibration.Offset.Kelvins)
            ?? (calibration.HumidityPoints is { } points ? Bounds.HumidityPoints.WhyNot(points) : null)
            ?? (calibration.DryRaw is { } dry ? Bounds.RawMoisture.WhyNot(dry) : null)
            ?? (calibration.SaturatedRaw is { } saturated ? Bounds.RawMoisture.WhyNot(saturated) : null)
            ?? WhyNot(calibration.From)
            ?? Bounds.Note.WhyNot(calibration.Note);
    }

    /// <summary>A stay of a probe or of a batch.</summary>
    public static string? WhyNot(Interval when) =>
        (when.HasStart ? WhyNot(when.Start) : null) ?? (when.HasEnd ? WhyNot(when.End) : null);

    /// <summary>When something was seen or done.</summary>
    public static string? WhyNot(Instant at) => Bounds.Year.WhyNot(at.InUtc().Year);

    private static string? WhyNot(Instant? at) => at is { } known ? WhyNot(known) : null;
}

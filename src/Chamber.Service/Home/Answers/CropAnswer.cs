using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;

namespace Chamber.Service.Home.Answers;

/// <summary>A crop for programs. The first ten names are relied on by others.</summary>
internal sealed record CropAnswer(
    CropId Crop,
    string Name,
    string BotanicalName,
    Temperature Base,
    Temperature OptimumLow,
    Temperature OptimumHigh,
    Temperature Ceiling,
    double FootKelvins,
    WarmHours HalfWarmHours,
    double Spread,
    BandAnswer Band,
    Temperature CoolLimit,
    Temperature HotLimit,
    EmergenceEvent Event,
    ProfileOrigin Origin,
    LightNeed Light,
    IReadOnlyList<StandPoint> Stand,
    CeilingsAnswer? Ceilings,
    CropGuide? Guide,
    string? Conflict,
    IReadOnlyList<string> Sources,
    IReadOnlyList<CropNeed> Needs,
    IReadOnlyList<CropHazard> Hazards,
    bool HazardUnknown,
    IReadOnlyList<CautionAnswer> Cautions)
{
    /// <summary>Days and share at steady temperatures, 5 K apart.</summary>
    public required IReadOnlyList<DaysAt> DaysBySteadyTemperature { get; init; }

    public static CropAnswer Of(Crop crop) => new(
        crop.Id,
        crop.CommonName,
        crop.BotanicalName,
        crop.Profile.Cardinals.Base,
        crop.Profile.Cardinals.OptimumLow,
        crop.Profile.Cardinals.OptimumHigh,
        crop.Profile.Cardinals.Ceiling,
        crop.Profile.Cardinals.FootKelvins,
        crop.Profile.HalfWarmHours,
        crop.Profile.Spread,
        BandAnswer.Of(crop.IdealBand),
        crop.CoolLimit,
        crop.HotLimit,
        crop.Profile.Event,
        crop.Profile.Origin,
        crop.Light,
        [.. crop.Stand.Points.Select(point => new StandPoint(point.Temperature, Math.Round(point.Share, 4)))],
        CeilingsAnswer.Of(crop.Profile.Cardinals.Ceilings),
        crop.Guide,
        crop.Conflict,
        crop.Sources,
        crop.Needs,
        crop.Hazards,
        crop.HazardUnknown,
        [.. PoisonCaution.Of(crop).Select(CautionAnswer.Of)]) { DaysBySteadyTemperature = DaysAt.Of(crop) };
}

/// <summary>A crop at a steady temperature.</summary>
/// <param name="Temperature">The temperature.</param>
/// <param name="DaysToHalf">Days until half are up by the tables; null where none come up, or the seed would rot first.</param>
/// <param name="Share">The share of good seed that comes up, 0 to 1.</param>
internal sealed record DaysAt(Temperature Temperature, double? DaysToHalf, double Share)
{
    private const int Step = 5;
    private const int Warmest = 40;

    public static IReadOnlyList<DaysAt> Of(Crop crop) =>
        [.. Enumerable.Range(1, Warmest / Step).Select(i => At(crop, Temperature.FromCelsius(i * Step)))];

    private static DaysAt At(Crop crop, Temperature temperature)
    {
        var share = crop.Stand.ShareAt(temperature);
        var days = crop.Profile.DaysToHalf(temperature);
        return new(temperature, share > 0 && (crop.Profile.WaitDays is not { } wait || days <= wait) ? days : null, share);
    }
}

/// <summary>How the ceilings of the crop's seeds lie: their middle, their standard deviation and over how many kelvins each slows
/// down.</summary>
internal sealed record CeilingsAnswer(Temperature Median, double SpreadKelvins, double FallKelvins)
{
    public static CeilingsAnswer? Of(SeedCeilings? ceilings) =>
        ceilings is { } known ? new(known.Median, known.SpreadKelvins, known.FallKelvins) : null;
}

internal sealed record BandAnswer(Temperature Low, Temperature High)
{
    public static BandAnswer Of(TemperatureBand band) => new(band.Low, band.High);
}

internal sealed record StandPoint(Temperature Temperature, double Share);

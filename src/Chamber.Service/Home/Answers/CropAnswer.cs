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
        [.. PoisonCaution.Of(crop).Select(CautionAnswer.Of)]);
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

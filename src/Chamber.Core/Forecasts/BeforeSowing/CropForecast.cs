using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Needs;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts.BeforeSowing;

/// <summary>What is asked of a crop before anything is sown.</summary>
/// <param name="Crop">The crop.</param>
/// <param name="Seeds">How many seeds, at least 1.</param>
public sealed record CropQuestion(Crop Crop, int Seeds)
{
    /// <summary>How it would be sown; by default, the way whose event the crop's numbers count.</summary>
    public SowingMethod Method { get; init; } =
        Crop.Profile.Event == EmergenceEvent.RootSeen ? SowingMethod.DampTowel : SowingMethod.CoveredMix;

    /// <summary>Mix above the seed, mm; null for the crop's usual depth.</summary>
    public double? DepthMillimetres { get; init; }

    /// <summary>The lot, where that is known.</summary>
    public LotId? Lot { get; init; }

    /// <summary>What kind of spot it would stand on; null where that is not known.</summary>
    public SpotKind? Spot { get; init; }

    /// <summary>How old the seed is, in years; null where that is not known.</summary>
    public double? SeedYears { get; init; }

    /// <summary>What is believed of the lot's germinable share.</summary>
    public ShareBelief Germinable { get; init; } = Germinability.OfUnknownLot(Crop);

    /// <summary>What this home has taught.</summary>
    public HomeKnowledge Home { get; init; } = HomeKnowledge.Nothing;

    /// <summary>How many times the days of the tables it takes here, by what this home has taught: 0.8 is a fifth less; above 0.</summary>
    public double Pace => Home.HalfOf(Kind).CelsiusHours / Kind.Profile.HalfWarmHours.CelsiusHours;

    /// <summary>What is sown: crop, method and lot, with the kind of spot and the age of the seed.</summary>
    public BatchKind Kind => new(Crop.Id, RootAndShoot.Profile(Crop, Method, DepthMillimetres), Method, Lot)
        { Family = CropFamilies.Of(Crop), Spot = Spot, SeedYears = SeedYears };
}

/// <summary>Forecasts of a crop that is not sown yet; days count from the sowing. Seed that needs a moist chill is taken to have it first,
/// so that its days count from the day it is wetted and goes into the cold.</summary>
public static class CropForecast
{
    /// <summary>At a temperature that never changes.</summary>
    public static EmergenceForecast AtSteady(CropQuestion question, Temperature temperature) =>
        Answer(
            question,
            WarmthOutlook.Steady(question.Crop.Profile.Cardinals, temperature),
            Germinability.At(question.Germinable, question.Crop.Stand, temperature),
            SowingConditions.At(question.Crop, temperature));

    /// <summary>Along recorded or planned temperatures, sown at the first of them; beyond the last one its last day is repeated.</summary>
    /// <param name="question">What is asked.</param>
    /// <param name="trace">At least one temperature, in order of time.</param>
    public static EmergenceForecast Along(CropQuestion question, IReadOnlyList<TemperatureSample> trace)
    {
        var outlook = new PlannedOutlook(question.Crop.Profile.Cardinals, trace);
        return Answer(question, outlook, Germinability.Along(question.Germinable, question.Crop.Stand, outlook.Course),
            SowingConditions.Along(question.Crop, outlook.Course));
    }

    /// <summary>On a spot, sown now.</summary>
    /// <param name="question">What is asked.</param>
    /// <param name="climate">How the spot's temperature goes on.</param>
    /// <param name="now">When it is sown.</param>
    /// <param name="residual">How much warmer than usual the spot is now, K.</param>
    public static EmergenceForecast OnSpot(CropQuestion question, SpotClimate climate, Instant now, double residual = 0) =>
        Answer(
            question,
            new SpotOutlook(question.Crop.Profile.Cardinals, climate, now, residual),
            Germinability.Over(question.Germinable, question.Crop, climate.Usual),
            SowingConditions.Over(question.Crop, climate.Usual),
            now);

    private static EmergenceForecast Answer(CropQuestion question, WarmthOutlook outlook, ShareBelief germinable,
        SowingConditions surroundings,
        Instant now = default)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(question.Seeds, 1);
        var chill = ChillState.First(question.Crop);
        var sleepDays = chill is { IsNow: true } ? chill.DaysLeft : 0;
        var prior = question.Home.PriorFor(
            question.Kind.At(surroundings.PerBaseKelvin, surroundings.Mean), Germinability.After(chill, germinable));
        var forecast = Forecaster.Forecast(
            surroundings.On(prior, question.Crop.Profile, sleepDays),
            Situation.AtSowing(question.Seeds, question.Method.Event(), WarmthOutlook.After(sleepDays, outlook), now));
        return forecast with { NoneBecause = surroundings.WhyNone(forecast, question.Germinable), Chill = chill };
    }
}

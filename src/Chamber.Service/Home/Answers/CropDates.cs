using Chamber.Core.Crops;
using Chamber.Core.Plans;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>The dates of one crop, with its warnings and the pots it needs in the light.</summary>
internal sealed record CropDates(Wanted Wanted, DaysUp Up, SowingDates? Dates, (LocalDate From, LocalDate To)? InPlace,
    IReadOnlyList<Mistake> Mistakes)
{
    private const int SeedsOfForecast = 12;

    /// <summary>What its days rest on, in one sentence.</summary>
    public string Basis { get; private init; } = "";

    /// <summary>From the day it is up until planted out.</summary>
    public LitPots? Lit => Dates is { } dates ? new(Wanted.Crop.CommonName, Wanted.Plants, dates.UpFrom, dates.PlantOutFrom) : null;

    /// <summary>The day on which seed that is sown on the best day comes out of the cold; null for a crop that needs no chill.</summary>
    public LocalDate? OutOfColdOn => Dates is { } dates && Wanted.Crop.Chill is { IsNeeded: true } chill
        ? dates.Aim.PlusDays(chill.EnoughDays) : null;

    public CropDatesAnswer Answer => new(
        Wanted.Crop.Id,
        Wanted.Plants,
        Up,
        Dates,
        Dates is { } dates ? HardeningLadder.For(Wanted.Crop.Guide, dates.HardenFrom) : null,
        InPlace is { } window ? new(window.From, window.To) : null,
        Mistakes,
        Basis)
    { OutOfColdOn = OutOfColdOn };

    public static CropDates Of(HomeReader home, Instant now, Wanted wanted, LastFrost frost, Spot? spot, Crop[] together)
    {
        var question = home.At(now).Forecasts.Here(new(wanted.Crop, SeedsOfForecast));
        var inPlace = wanted.Crop.Guide is { } sown ? SowingDates.InPlace(sown, frost) : null;
        var forecast = spot is not null && wanted.Crop.Guide?.IsSownInPlace != true
            ? SpotForecast.Of(home, now, question, spot.Id.Text)
            : home.At(now).Forecasts.AtSteady(question, wanted.Crop.Profile.Cardinals.OptimumLow);
        if (forecast.NoneLikely || forecast.Half is not { Low: { } low, Mid: { } mid, High: { } high })
        {
            throw new BadInputException(spot is null
                ? $"{wanted.Crop.CommonName} would not come up even at its best temperature, so its numbers cannot be right: chamber crops "
                    + $"{wanted.Crop.Id}"
                : $"{wanted.Crop.CommonName} would not come up on {spot.Id}: choose another spot.");
        }

        var up = new DaysUp(low.TotalDays, mid.TotalDays, high.TotalDays);
        var dates = wanted.Crop.Guide is { } guide ? SowingDates.For(guide, frost, up) : null;
        var today = now.InZone(home.Zone).Date;
        var on = dates is { } days ? LocalDate.Max(days.Aim, today) : today;
        Intent intent = new(wanted.Crop, SowingMethod.CoveredMix, on, dates, spot, [], spot is null ? [] : together) { Scale = home.Scale };
        return new(wanted, up, dates, inPlace, today > (inPlace?.To ?? dates?.PlantOutTo) ? [CommonMistakes.Over(wanted.Crop)]
            : inPlace is null ? [.. CommonMistakes.Of(intent)] : [])
        {
            Basis = KnowledgeWords.Of(question),
        };
    }
}

/// <summary>The dates of one crop for programs.</summary>
/// <param name="Crop">The crop.</param>
/// <param name="Plants">How many plants.</param>
/// <param name="DaysUp">Days to come up, 80 % interval.</param>
/// <param name="Dates">When to do what; null for a crop that is sown in its place.</param>
/// <param name="Ladder">Hardening off, day by day.</param>
/// <param name="InPlace">When to sow a crop that is sown in its place; null for others.</param>
/// <param name="Mistakes">What is likely to go wrong with it.</param>
/// <param name="Basis">What the days to come up rest on: the tables, or what this home's batches have taught.</param>
internal sealed record CropDatesAnswer(CropId Crop, int Plants, DaysUp DaysUp, SowingDates? Dates, IReadOnlyList<LadderStep>? Ladder,
    SowingDays? InPlace, IReadOnlyList<Mistake> Mistakes, string Basis)
{
    /// <summary>The day on which seed sown on the best day comes out of the cold; null for a crop that needs no chill.</summary>
    public LocalDate? OutOfColdOn { get; init; }
}

/// <summary>The days on which something may be sown, both included.</summary>
internal sealed record SowingDays(LocalDate From, LocalDate To);

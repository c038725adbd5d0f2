using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Reviews;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Plots;
using NodaTime;

namespace Chamber.Service.Reviews;

/// <summary>A batch looked back on.</summary>
internal sealed record BatchReview(Batch Batch, Crop Crop, BatchDiagnosis Diagnosis, BatchCase Case, BatchPicture Picture, Hit? Hit,
    decimal? SeedCost);

/// <summary>Looks back on batches: what was forecast of each when it was sown, what came, and who did it.</summary>
internal sealed class HomeReviews(HomeReader home, Instant now, TemperatureScale scale)
{
    private readonly HomeDiagnoses diagnoses = home.At(now).Diagnoses;
    private readonly HomeHindsight hindsight = home.At(now).Hindsight;
    private readonly HomeSeeds seeds = home.At(now).Seeds;

    /// <exception cref="FormatException">Its crop is no longer in the catalog.</exception>
    public BatchReview Of(Batch batch)
    {
        var crop = home.Catalog.Find(batch.Crop)
            ?? throw new FormatException($"Batch {batch.Id} is of crop {batch.Crop}, which the catalog no longer has. Record it again: "
                + $"{CropFile.Again(batch.Crop)}.");
        var until = Instant.Max(batch.SownAt + Duration.FromHours(1), Instant.Min(batch.EndedAt ?? now, now));
        var course = diagnoses.Forecasts.Course(batch, crop, until);
        var lot = batch.Lot is { } id && home.Ledger.Lot(id) is { } entry ? seeds.Of(entry, batch.Id) : null;
        var then = hindsight.Of(batch);
        var known = diagnoses.Case(batch, crop, batch.EndedAt is null ? diagnoses.Forecasts.Of(batch) : null, then?.AtSowing.First);
        var hit = then?.Compared.FirstOrDefault(each => each.Milestone == Milestone.First) is { } compared ? Hit.Of(compared) : null;
        return new(batch, crop, BatchDiagnosis.Of(known), known, Picture(batch, crop, course, known.ForecastDays, until), hit,
            Price(batch, lot));
    }

    /// <summary>Reviews of all batches sown in a time, tests left out.</summary>
    public IReadOnlyList<BatchReview> All(Interval season) =>
        [.. home.Ledger.Batches.Where(batch => !batch.IsTest && season.Contains(batch.SownAt) && home.Catalog.Find(batch.Crop) is not null)
            .Select(Of)];

    /// <summary>A season added up, with what it cost at these prices.</summary>
    public SeasonReview Season(IReadOnlyList<BatchReview> reviews, PriceSettings prices, decimal other, decimal? boughtEach)
    {
        List<BatchOutcome> outcomes = [.. reviews.Select(Outcome)];
        var seasonPrices = new SeasonPrices
        {
            KilowattHour = prices.KilowattHour,
            MixLitre = prices.MixLitre,
            ContainerLitres = prices.ContainerLitres,
            Other = other,
            Watts = prices.Watts.ToDictionary(spot => new SpotId(spot.Key), spot => spot.Value),
        };
        var cost = seasonPrices.For([.. reviews.Select(one => one.Batch)], outcomes.Sum(one => one.Cost ?? 0),
            outcomes.Sum(one => one.PlantedOut), now);
        return SeasonReview.Of(outcomes, cost, boughtEach);
    }

    /// <summary>What became of a batch, for a season's sums.</summary>
    private static BatchOutcome Outcome(BatchReview review)
    {
        var batch = review.Batch;
        var seen = review.Case.SeenDays;
        return new(
            batch.Id,
            batch.Crop,
            batch.Lot,
            batch.Stays.Count > 0 ? batch.Stays[0].Spot : null,
            batch.Method,
            review.Case.Count,
            seen.By is { } by ? (seen.After, by) : null,
            batch.Stages.Where(stage => stage.Kind == StageKind.PlantedOut).Sum(stage => stage.Plants ?? BatchRules.Alive(batch)),
            review.SeedCost,
            review.Diagnosis,
            review.Case.IsOver || review.Case.Count.Up == review.Case.Count.Seeds
                || batch.Stages.Any(stage => stage.Kind is StageKind.PrickedOut or StageKind.HardeningOff or StageKind.PlantedOut));
    }

    private BatchPicture Picture(Batch batch, Crop crop, WarmthCourse? course, (double Low, double High)? forecast, Instant until)
    {
        var trace = home.TraceOf(batch, new(batch.SownAt, until));
        var curve = course is null || batch.Looks.Count == 0 ? (EmergenceCurve?)null : Fitted(batch, crop, course);
        return new()
        {
            Batch = batch,
            Crop = crop,
            Zone = home.Zone,
            Scale = scale,
            Until = until,
            Stretches = [.. trace.Stretches.Select(stretch => (IReadOnlyList<TemperatureSample>)[.. stretch.Samples])],
            Warmth = course is null ? [] : BatchPicture.WarmthOf(course, batch.SownAt, until),
            ForecastFirst = forecast is { } days
                ? (batch.SownAt + Duration.FromDays(days.Low), batch.SownAt + Duration.FromDays(days.High)) : null,
            HalfWarmHours = curve is { } fitted ? Math.Exp(fitted.LogHalf) : crop.Profile.HalfWarmHours.CelsiusHours,
            Fitted = curve is { } known ? BatchPicture.Curve(known, course!, batch.Seeds, batch.SownAt, until) : [],
        };
    }

    private EmergenceCurve Fitted(Batch batch, Crop crop, WarmthCourse course)
    {
        var germinable = Germinability.Along(Germinability.UnknownLot, crop.Stand, course);
        var prior = diagnoses.Forecasts.Knowledge.PriorFor(diagnoses.Forecasts.KindOf(batch, crop, course), germinable, batch.Id);
        var belief = EmergenceBelief.After(prior, SeenCounts.Of(batch, course));
        return new(belief.LogHalf.Mean, belief.Spread.Mean, belief.Germinable.Mean);
    }

    private static decimal? Price(Batch batch, LotState? lot) =>
        lot?.Lot is { Price: { } price } paid && (paid.Bought ?? paid.Counted) is > 0 and var count
            ? Math.Round(price * batch.Seeds / count, 2) : null;
}

using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Reviews;
using Chamber.Core.Spots;
using Chamber.Core.Statistics;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Plots;
using NodaTime;

namespace Chamber.Service.Reviews;

/// <summary>A batch looked back on.</summary>
internal sealed record BatchReview(Batch Batch, Crop Crop, Verdict Verdict, BatchFacts Facts, BatchPicture Picture, Hit? Hit, decimal? SeedCost);

/// <summary>Looks back on batches: what was forecast of each when it was sown, what came, and whose doing it was.</summary>
internal sealed class HomeReviews(HomeReader home, Instant now, TemperatureScale scale)
{
    private readonly HomeForecasts forecasts = new(home, now);
    private readonly HomeHindsight hindsight = new(home, now);
    private readonly HomeSeeds seeds = new(home, now);
    private readonly Dictionary<SpotId, Spot> spots = home.Spots().ToDictionary(spot => spot.Id);

    /// <exception cref="FormatException">Its crop is no longer in the catalog.</exception>
    public BatchReview Of(Batch batch)
    {
        var crop = home.Catalog.Find(batch.Crop) ?? throw new FormatException($"Batch {batch.Id} is of crop {batch.Crop}, which the catalog no longer has.");
        var until = Instant.Max(batch.SownAt + Duration.FromHours(1), Instant.Min(batch.EndedAt ?? now, now));
        var course = forecasts.Course(batch, crop, until);
        var lot = batch.Lot is { } id && home.Store.Ledger.Seeds.Lot(id) is { } known ? seeds.Of(known, batch.Id) : null;
        var then = hindsight.Of(batch);
        var first = then?.AtSowing.First is { Low: { } low, High: { } high } ? (low.TotalDays, high.TotalDays) : ((double Low, double High)?)null;
        var facts = Facts(batch, crop, course, lot, first, until);
        var hit = then?.Compared.FirstOrDefault(each => each.Milestone == Milestone.First) is { } compared ? Hit.Of(compared) : null;
        return new(batch, crop, Verdict.On(facts), facts, Picture(batch, crop, course, first, until), hit, Price(batch, lot));
    }

    /// <summary>Reviews of all batches sown in a time, tests left out.</summary>
    public IReadOnlyList<BatchReview> All(Interval season) =>
        [.. home.Store.Ledger.Batches.All().Where(batch => !batch.IsTest && season.Contains(batch.SownAt) && home.Catalog.Find(batch.Crop) is not null).Select(Of)];

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
        var cost = seasonPrices.For([.. reviews.Select(one => one.Batch)], outcomes.Sum(one => one.Cost ?? 0), outcomes.Sum(one => one.PlantedOut), now);
        return SeasonReview.Of(outcomes, cost, boughtEach);
    }

    /// <summary>What became of a batch, for a season's sums.</summary>
    private static BatchOutcome Outcome(BatchReview review)
    {
        var batch = review.Batch;
        var seen = review.Facts.SeenDays;
        return new(
            batch.Id,
            batch.Crop,
            batch.Lot,
            batch.Stays.Count > 0 ? batch.Stays[0].Spot : null,
            batch.Method,
            review.Facts.Count,
            seen.By is { } by ? (seen.After + by) / 2 : null,
            batch.Stages.Where(stage => stage.Kind == StageKind.PlantedOut).Sum(stage => stage.Plants ?? BatchCheck.Alive(batch)),
            review.SeedCost,
            review.Verdict,
            review.Facts.IsOver || review.Facts.Count.Up == review.Facts.Count.Seeds || batch.Stages.Any(stage => stage.Kind is StageKind.PrickedOut or StageKind.HardeningOff or StageKind.PlantedOut));
    }

    private BatchFacts Facts(Batch batch, Crop crop, WarmthCourse? course, LotState? lot, (double Low, double High)? forecast, Instant until)
    {
        var germination = FirstSeen.Of(batch).By is { } seen ? Instant.Max(seen, LastRise(batch)) : until;
        return new()
        {
            Crop = crop,
            Scale = home.Scale,
            Count = new(batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0, batch.Seeds),
            Lot = lot?.Belief.Share ?? Germinability.UnknownLot,
            LotTested = lot?.Belief.IsTested ?? false,
            PastLife = lot?.Belief.YearsLeft < 0,
            Treated = lot?.Lot.Treated ?? false,
            Hours = seeds.Hours(batch, crop, germination),
            StandShare = course is null ? 1 : Germinability.Along(new ShareBelief(50, 50), crop.Stand, course).Mean / 0.5,
            ForecastDays = forecast,
            SeenDays = FirstSeen.Of(batch).Days(batch.SownAt),
            IsOver = batch.EndedAt is not null || forecasts.Of(batch)?.Stop.IsDue == true,
            WarmDarkHours = WarmDarkHours(batch, crop),
            Losses = batch.Losses,
            WrongLight = crop.Light == LightNeed.NeedsLight && batch.Stays.Count > 0 && spots.GetValueOrDefault(batch.Stays[0].Spot)?.Light == LightLevel.Dark,
            Water = Water(batch),
        };
    }

    private static Instant LastRise(Batch batch)
    {
        var top = batch.Looks[^1].Up;
        return batch.Looks.First(look => look.Up == top).At;
    }

    private double WarmDarkHours(Batch batch, Crop crop)
    {
        if (WarmDark.Window(batch, spot => spots.GetValueOrDefault(spot)?.Light ?? LightLevel.Dim, now) is not { } window)
        {
            return 0;
        }

        var trace = home.TraceOf(batch, window);
        return WarmDark.Hours(crop, trace.Stretches.SelectMany(stretch => stretch.Samples), window, trace.MaxGap).TotalHours;
    }

    /// <summary>People write down trouble with water in their own words; these are the ones they use.</summary>
    private static WaterTrouble Water(Batch batch)
    {
        var notes = string.Join(' ', batch.Looks.Select(look => look.Note).OfType<string>());
        bool Says(params string[] words) => words.Any(word => notes.Contains(word, StringComparison.OrdinalIgnoreCase));
        return Says("mould", "mold", "fuzz") ? WaterTrouble.Mould
            : Says("too wet", "soaked", "pool", "swimming", "slimy") ? WaterTrouble.TooWet
            : Says("dried", "too dry", "bone dry") ? WaterTrouble.DriedOut
            : WaterTrouble.None;
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
            ForecastFirst = forecast is { } days ? (batch.SownAt + Duration.FromDays(days.Low), batch.SownAt + Duration.FromDays(days.High)) : null,
            HalfWarmHours = curve is { } fitted ? Math.Exp(fitted.LogHalf) : crop.Profile.HalfWarmHours.CelsiusHours,
            Fitted = curve is { } known ? BatchPicture.Curve(known, course!, batch.Seeds, batch.SownAt, until) : [],
        };
    }

    private EmergenceCurve Fitted(Batch batch, Crop crop, WarmthCourse course)
    {
        var germinable = Germinability.Along(Germinability.UnknownLot, crop.Stand, course);
        var prior = forecasts.Knowledge.PriorFor(BatchKind.Of(batch, crop.Profile), germinable, batch.Id);
        var belief = EmergenceBelief.After(prior, SeenCounts.Of(batch, course));
        return new(belief.LogHalf.Mean, belief.Spread.Mean, belief.Germinable.Mean);
    }

    private static decimal? Price(Batch batch, LotState? lot) =>
        lot?.Lot is { Price: { } price } paid && (paid.Bought ?? paid.Counted) is > 0 and var count ? Math.Round(price * batch.Seeds / count, 2) : null;
}

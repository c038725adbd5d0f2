using System.Collections.Concurrent;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Needs;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Statistics;
using Chamber.Core.Water;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>Forecasts of this home: its spots as surveyed, its batches as looked at, and what earlier batches have taught.</summary>
internal sealed class HomeForecasts
{
    private const double WholeHour = 0.75;

    // A batch that was sown just now has no reading yet.
    private static readonly Duration Unmeasured = Duration.FromHours(2);

    private readonly HomeReader home;
    private readonly Instant now;
    private readonly ConcurrentDictionary<SpotId, (SpotClimate? Climate, double Residual)> climates = new();
    private readonly ConcurrentDictionary<Batch, EmergenceForecast?> forecasts = new(ReferenceEqualityComparer.Instance);
    private readonly Lazy<HomeKnowledge> knowledge;
    private readonly HomeSeeds seeds;
    private IReadOnlyList<BatchEvidence>? evidence;
    private readonly ConcurrentDictionary<LotId, ShareBelief?> lots = new();

    public HomeForecasts(HomeReader home, Instant now, HomeKnowledge? known = null)
    {
        this.home = home;
        this.now = now;
        knowledge = known is null ? new(() => home.Learned(home, this), LazyThreadSafetyMode.PublicationOnly) : new(known);
        seeds = new(home, now);
    }

    /// <summary>The chance of one more seedling under which waiting ends.</summary>
    public double StopBelow => home.StopBelow;

    /// <summary>A spot that is taken to be warmer from now on than it usually is, by so many K; null for none.</summary>
    public (SpotId Spot, double By)? Warmer { get; init; }

    /// <summary>What this home has taught so far.</summary>
    public HomeKnowledge Knowledge => knowledge.Value;

    /// <summary>Seed sown at a temperature that never changes.</summary>
    public EmergenceForecast AtSteady(CropQuestion question, Temperature temperature) => CropForecast.AtSteady(Here(question), temperature);

    /// <summary>The same question, asked of this home: with what its batches have taught, and what is known of the lot.</summary>
    public CropQuestion Here(CropQuestion question) => question with
    {
        Home = Knowledge,
        Germinable = Share(question.Lot) ?? question.Germinable,
        SeedYears = YearsOf(question.Lot, now),
    };

    /// <summary>The warm-hours that half of a batch needs, as this home's other batches have taught.</summary>
    public WarmHours HalfOf(Batch batch, Crop crop) => Knowledge.HalfOf(KindOf(batch, crop, Course(batch, crop, now)), batch.Id);

    /// <summary>What a batch shares with others, on a course of temperatures.</summary>
    public BatchKind KindOf(Batch batch, Crop crop, WarmthCourse? course) =>
        course is null ? KindOf(batch, crop) : KindOf(batch, crop).At(course.PerBaseKelvinOf(crop), course.MeanTemperature);

    // The spot on which it was put first is the one that it spent its first days on.
    private BatchKind KindOf(Batch batch, Crop crop) => BatchKind.Of(batch, crop) with
    {
        Spot = batch.Stays is [var first, ..] ? KindOf(first.Spot) : null,
        SeedYears = YearsOf(batch.Lot, batch.SownAt),
    };

    private double? YearsOf(LotId? lot, Instant at) =>
        lot is { } id && home.Ledger.Lot(id) is { } known ? SeedAge.Of(known, at.InZone(home.Zone).Date)?.Years : null;

    /// <summary>Seed sown on a spot; null while the spot has not been measured through a whole day.</summary>
    /// <param name="question">What is sown.</param>
    /// <param name="spot">Where.</param>
    /// <param name="later">In how long; what the spot is off its usual day fades meanwhile.</param>
    public EmergenceForecast? OnSpot(CropQuestion question, SpotId spot, Duration later = default) =>
        Climate(spot) is ({ } climate, var residual) && !IsForChill(spot, question.Crop)
            ? CropForecast.OnSpot(Here(question) with { Spot = KindOf(spot) }, climate, now + later,
                residual * Math.Pow(climate.Persistence, later.TotalHours))
            : IsForChill(spot, question.Crop)
                ? CropForecast.AtSteady(Here(question), Middle(question.Crop.IdealBand)) : null;

    /// <summary>A spot's usual day; null while it was not measured through a whole day.</summary>
    public HourOfDayProfile? UsualOf(SpotId spot) => Climate(spot).Climate?.Usual;

    // Seed that needs a chill and is sown in a refrigerator is there for the chill, and goes on elsewhere.
    private bool IsForChill(SpotId spot, Crop crop) => crop.Chill is { IsNeeded: true } && KindOf(spot) == SpotKind.Refrigerator;

    private static Temperature Middle(TemperatureBand band) => Temperature.FromCelsius((band.Low.Celsius + band.High.Celsius) / 2);

    /// <summary>A batch as it stands; null while too little was measured to say anything.</summary>
    public EmergenceForecast? Of(Batch batch) => forecasts.GetOrAdd(batch, Forecast);

    private EmergenceForecast? Forecast(Batch batch)
    {
        if (home.Catalog.Find(batch.Crop) is not { } crop)
        {
            return null;
        }

        var chill = ChillOf(batch, crop);
        if (AheadOf(batch, crop, chill) is not var (ahead, expected, conditions))
        {
            return null;
        }

        var past = Course(batch, crop, now);
        if (past is null && (batch.Looks.Count > 0 || now - batch.SownAt > Unmeasured))
        {
            return null;
        }

        var germinable = past is null || chill is { IsNow: true } ? expected
            : Germinability.After(chill, Germinability.Along(Share(batch, crop), crop.Stand, past));
        conditions = past is null ? conditions : SowingConditions.Along(crop, past).And(conditions, PastShare(batch, crop, past));
        var kind = KindOf(batch, crop).At(conditions.PerBaseKelvin, conditions.Mean);
        var prior = Knowledge.PriorFor(kind, germinable, batch.Id);
        var sleepDays = chill is { } known ? known.Days + (known.IsNow ? known.DaysLeft : 0) : 0;
        var forecast = Forecaster.Forecast(ColdRot.On(conditions.On(prior, crop.Profile, sleepDays), batch, conditions.Ahead,
                BatchMoisture.Now(home, batch, now)),
            new(batch.SownAt, now, batch.Seeds, batch.Method.Event(), [.. batch.Looks.Where(look => look.At <= now)], past, ahead),
            home.StopBelow);
        return forecast with { NoneBecause = conditions.WhyNone(forecast, Share(batch, crop)), Chill = chill };
    }

    private static double PastShare(Batch batch, Crop crop, WarmthCourse past) =>
        Math.Min(1, past.Total.CelsiusHours / BatchKind.Of(batch, crop).Profile.HalfWarmHours.CelsiusHours);

    /// <summary>How far a batch is with its moist chill: by what was measured, and in a refrigerator of which nothing was measured by its
    /// stay; null for a crop that wants none.</summary>
    public ChillState? ChillOf(Batch batch, Crop crop)
    {
        if (crop.Chill is not { } need)
        {
            return null;
        }

        var until = Instant.Max(batch.SownAt, Instant.Min(now, batch.EndedAt ?? now));
        var (samples, maxGap) = Temperatures(batch, until);
        var isCold = SpotOf(batch) is { } spot && (KindOf(spot) == SpotKind.Refrigerator
            || (Climate(spot).Climate?.Usual.Hours.Average(hour => hour!.Value.Mean.Celsius) is { } mean
                && need.Band!.Value.Contains(Temperature.FromCelsius(mean))));
        return new(need, ChillState.DaysOf(need, samples, new(batch.SownAt, until), maxGap), batch.EndedAt is null && isCold);
    }

    private SpotKind? KindOf(SpotId id) => home.Spots().FirstOrDefault(spot => spot.Id == id)?.Kind;

    private (IReadOnlyList<TemperatureSample> Samples, Duration MaxGap) Temperatures(Batch batch, Instant until)
    {
        var trace = home.TraceOf(batch, new(batch.SownAt - Duration.FromHours(2), until));
        return (Refrigerator.Filled(batch, trace, until, KindOf), trace.MaxGap);
    }

    /// <summary>What is to come for a batch where it is now, the share of its seeds that can come up there, and what a higher base would
    /// do there; null when nothing was measured.</summary>
    public (WarmthOutlook Ahead, ShareBelief Germinable, double PerBaseKelvin)? Ahead(Batch batch, Crop crop) =>
        AheadOf(batch, crop, ChillOf(batch, crop)) is var (ahead, germinable, conditions)
            ? (ahead, germinable, conditions.PerBaseKelvin) : null;

    /// <summary>The same with what the temperatures say. Seed that is chilled is taken to go on in the middle of its ideal band when it
    /// has had enough.</summary>
    private (WarmthOutlook Ahead, ShareBelief Germinable, SowingConditions Conditions)? AheadOf(Batch batch, Crop crop, ChillState? chill)
    {
        if (chill is { IsNow: true })
        {
            var middle = Middle(crop.IdealBand);
            return (WarmthOutlook.After(chill.DaysLeft, WarmthOutlook.Steady(crop.Profile.Cardinals, middle)),
                Germinability.After(chill, Germinability.At(Share(batch, crop), crop.Stand, middle)),
                SowingConditions.At(crop, middle) with { Ahead = new(0, 0, 1), IsPossible = true });
        }

        return SpotOf(batch) is { } spot && Ahead(spot, crop, Share(batch, crop)) is var (ahead, germinable, conditions)
            ? (ahead, Germinability.After(chill, germinable), conditions) : null;
    }

    /// <summary>What the spot has in store for a batch where it is now, by its usual day; null when nothing was measured.</summary>
    public SpotAhead? AheadOf(Batch batch, Crop crop)
    {
        if (SpotOf(batch) is not { } spot)
        {
            return null;
        }

        if (ChillOf(batch, crop) is { IsNow: true })
        {
            return new(0, 0, 1);
        }

        return Climate(spot).Climate is { } climate
            ? SpotAhead.Of(crop, [.. climate.Usual.Hours.Select(hour => hour?.Mean).OfType<Temperature>()])
            : SpotAhead.Of(crop, [.. home.Trace(spot, HomeReader.SurveyWindow(now)).Stretches.SelectMany(stretch => stretch.Samples)
                .Select(sample => sample.Temperature)]);
    }

    /// <summary>What was believed of a batch's seed before any batch of its lot: from the lot's age, packet and tests.</summary>
    public ShareBelief Share(Batch batch, Crop crop) => Share(batch.Lot) ?? Germinability.OfUnknownLot(crop);

    private ShareBelief? Share(LotId? lot) => lot is { } id ? lots.GetOrAdd(id, seeds.WithoutBatches) : null;

    /// <summary>Where it stood then: of the stays that had begun the last, otherwise the first.</summary>
    private SpotId? SpotOf(Batch batch) =>
        (batch.Stays.LastOrDefault(stay => stay.When.Start <= now) ?? (batch.Stays is [var first, ..] ? first : null))?.Spot;

    /// <summary>The warm-hours that a batch had until a moment; null when nothing was measured.</summary>
    public WarmthCourse? Course(Batch batch, Crop crop, Instant until) =>
        Damp(batch, crop, until)?.Slowed(BatchMoisture.DryTimesOf(home, batch, until));

    // As if it had never lain dry.
    private WarmthCourse? Damp(Batch batch, Crop crop, Instant until)
    {
        var end = Instant.Max(batch.SownAt, Instant.Min(until, batch.EndedAt ?? until));
        var (samples, maxGap) = Temperatures(batch, end);
        var usual = batch.Stays is [.., var last] ? Climate(last.Spot).Climate?.Usual : null;
        return samples.Count == 0 && usual is null
            ? null
            : WarmthCourse.Along(crop.Profile.Cardinals, samples, new(batch.SownAt, end), maxGap, usual, crop.Chill?.Band?.High);
    }

    /// <summary>What is to come on a spot, how much of a lot can come up there, and what else the temperatures say; null when nothing was
    /// measured.</summary>
    private (WarmthOutlook Ahead, ShareBelief Germinable, SowingConditions Conditions)? Ahead(SpotId spot, Crop crop, ShareBelief lot)
    {
        var by = Warmer is { } warmer && warmer.Spot == spot ? warmer.By : 0;
        if (Climate(spot) is ({ } usual, var residual))
        {
            var climate = by == 0 ? usual : usual with { Usual = usual.Usual.Warmer(by) };
            return (new SpotOutlook(crop.Profile.Cardinals, climate, now, residual), Germinability.Over(lot, crop, climate.Usual),
                SowingConditions.Over(crop, climate.Usual));
        }

        // A spot that is not surveyed through a whole day yet: what was measured so far is taken again and again.
        var samples = home.Trace(spot, HomeReader.SurveyWindow(now)).Stretches.SelectMany(stretch => stretch.Samples)
            .Select(sample => by == 0 ? sample : sample with { Temperature = Temperature.FromCelsius(sample.Temperature.Celsius + by) })
            .ToList();
        if (samples.Count == 0 && KindOf(spot) == SpotKind.Refrigerator)
        {
            samples.Add(new(now, Refrigerator.Usual));
        }

        if (samples.Count == 0)
        {
            return null;
        }

        var planned = new PlannedOutlook(crop.Profile.Cardinals, samples);
        return (planned, Germinability.Along(lot, crop.Stand, planned.Course), SowingConditions.Along(crop, planned.Course));
    }

    /// <summary>How the temperature of a spot goes on, and how much warmer than usual it is now.</summary>
    private (SpotClimate? Climate, double Residual) Climate(SpotId spot) =>
        climates.GetOrAdd(spot, id => Fit(home.Trace(id, HomeReader.SurveyWindow(now))));

    private (SpotClimate? Climate, double Residual) Fit(TemperatureTrace trace)
    {
        var means = HourlyMeans.Of(trace, home.Zone);
        var usual = HourOfDayProfile.From(means, home.Zone);
        if (!usual.IsComplete)
        {
            return (null, 0);
        }

        var hours = means.Where(mean => mean.MeasuredHours >= WholeHour)
            .Select(mean =>
                new TemperatureSample(mean.Date.At(new LocalTime(mean.Hour, 0)).InZoneLeniently(home.Zone).ToInstant(), mean.Mean))
            .ToList();
        var climate = SpotClimateFit.Fit(usual, hours);
        return (climate, hours.Count == 0 ? 0 : SpotClimateFit.ResidualNow(climate, hours[^1]) ?? 0);
    }

    /// <summary>Whether dryness or the lot explains what was up at the last look; null where it never lay dry.</summary>
    public DryOrOld? Dry(Batch batch, Crop crop) =>
        batch.Looks is [.., var last] && BatchMoisture.DryTimesOf(home, batch, last.At) is { Count: > 0 } dry
            && Damp(batch, crop, last.At) is { } damp
            ? DryEvidence.Of(batch, last, Knowledge.PriorFor(KindOf(batch, crop, damp), Share(batch, crop), batch.Id), damp,
                Germinability.OfUnknownLot(crop), dry)
            : null;

    /// <summary>The moment that they are made for.</summary>
    public Instant Now => now;

    /// <summary>Learns from everything that was seen by now.</summary>
    public HomeKnowledge Learn() => HomeKnowledge.Learn(Evidence(), now, home.Others);

    /// <summary>What the batches that have ended have shown by now.</summary>
    public IReadOnlyList<BatchEvidence> Ended() =>
        [.. home.Ledger.Batches.Where(batch => batch.EndedAt <= now).Select(EvidenceOf).OfType<BatchEvidence>()];

    /// <summary>What every batch that was looked at has shown by now.</summary>
    public IReadOnlyList<BatchEvidence> Evidence() =>
        evidence ??= [.. home.Ledger.Batches.Select(EvidenceOf).OfType<BatchEvidence>()];

    /// <summary>The same of one batch; null when nobody has looked at it or nothing was measured.</summary>
    public BatchEvidence? EvidenceOf(Batch batch)
    {
        batch = batch with { Looks = [.. batch.Looks.Where(look => look.At <= now)] };
        if (batch.Looks.Count == 0 || home.Catalog.Find(batch.Crop) is not { } crop
            || Course(batch, crop, batch.Looks[^1].At) is not { } course)
        {
            return null;
        }

        return new(
            batch.Id,
            KindOf(batch, crop, course),
            SeenCounts.Of(batch, course),
            Germinability.After(ChillOf(batch, crop), Germinability.Along(Share(batch, crop), crop.Stand, course)),
            batch.SownAt,
            batch.Looks[^1].At)
        {
            Stood = course.MeanTemperature,
        };
    }
}

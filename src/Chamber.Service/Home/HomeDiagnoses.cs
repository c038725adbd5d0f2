using System.Collections.Concurrent;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Needs;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>A batch with its forecast and its diagnosis.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="Forecast">Null when it has ended, or while too little was measured to say anything.</param>
/// <param name="Diagnosis">Null when the catalog no longer has its crop.</param>
internal sealed record BatchOutlook(Batch Batch, EmergenceForecast? Forecast, BatchDiagnosis? Diagnosis);

/// <summary>Puts together what a diagnosis of a batch is drawn from, and asks for it: the same for every answer.</summary>
internal sealed class HomeDiagnoses(HomeReader home, Instant now, HomeForecasts? known = null)
{
    private readonly HomeForecasts forecasts = known ?? home.At(now).Forecasts;
    private readonly HomeHindsight hindsight = home.At(now).Hindsight;
    private readonly HomeSeeds seeds = home.At(now).Seeds;
    private readonly ConcurrentDictionary<Batch, BatchOutlook> outlooks = new(ReferenceEqualityComparer.Instance);
    private readonly HomeWater water = new(home, now);
    private readonly Lazy<Dictionary<SpotId, Spot>> spots =
        new(() => home.Spots().ToDictionary(spot => spot.Id), LazyThreadSafetyMode.PublicationOnly);

    /// <summary>The forecasts that the diagnoses rest on.</summary>
    public HomeForecasts Forecasts => forecasts;

    /// <summary>How people see a batch.</summary>
    public string Name(BatchId batch) => home.Ledger.Names.Of(batch);

    /// <summary>A day in the home's zone, as people say it.</summary>
    public string Day(Instant at) => TimeText.ShowDay(at.InZone(home.Zone).Date, now.InZone(home.Zone).Date);

    /// <summary>A batch as it stands.</summary>
    public BatchOutlook Of(Batch batch) => outlooks.GetOrAdd(batch, Outlook);

    private BatchOutlook Outlook(Batch batch)
    {
        var forecast = batch.EndedAt is null ? forecasts.Of(batch) : null;
        return new(batch, forecast, home.Catalog.Find(batch.Crop) is { } crop ? BatchDiagnosis.Of(Case(batch, crop, forecast)) : null);
    }

    /// <summary>All that the diagnosis of a batch is drawn from.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="crop">Its crop.</param>
    /// <param name="forecast">Its forecast; null when it has ended or nothing can be said.</param>
    /// <param name="atSowing">Its forecast at sowing, where that is known already.</param>
    public BatchCase Case(Batch batch, Crop crop, EmergenceForecast? forecast, TimeEstimate? atSowing = null)
    {
        var until = Instant.Max(batch.SownAt + Duration.FromHours(1), Instant.Min(batch.EndedAt ?? now, now));
        var seen = FirstSeen.Of(batch);
        var lot = batch.Lot is { } id && home.Ledger.Lot(id) is { } entry ? seeds.Of(entry, batch.Id) : null;
        var phase = PhaseOf(batch, forecast);
        var chill = forecasts.ChillOf(batch, crop);
        return new()
        {
            Crop = crop,
            Scale = home.Scale,
            Count = new(batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0, batch.Seeds),
            Lot = lot?.Belief.Share ?? Germinability.OfUnknownLot(crop),
            LotTested = lot?.Belief.IsTested ?? false,
            PastLife = lot?.Belief.YearsLeft < 0,
            Treated = lot?.Lot.Treated ?? false,
            Phase = phase,
            Hours = Unchilled(seeds.Hours(batch, crop, seen.By is { } by ? Instant.Max(by, LastRise(batch)) : until), chill),
            Chill = chill,
            StandShare = Stand(batch, crop, seen.By ?? until).Share(crop.Stand),
            Ahead = batch.EndedAt is null ? forecasts.AheadOf(batch, crop) : null,
            ExpectedUp = forecast?.Stand.Mid * batch.Seeds,
            IsSlow = forecast?.Stop.IsSlow ?? false,
            IsNever = forecast is { Stop: { After: null, AllUp: false } },
            ForecastDays = Days(atSowing ?? (MayBeLate(batch, phase) ? hindsight.Of(batch)?.AtSowing.First : null)),
            SeenDays = seen.Days(batch.SownAt),
            UnseenDays = (now - (batch.Looks is [.., var look] ? look.At : batch.SownAt)).TotalDays,
            WasSeen = batch.Looks.Count > 0,
            WarmDarkHours = WarmDarkHours(batch, crop),
            IsInLight = WarmDark.IsInLight(batch, LightOf),
            Losses = batch.Losses,
            WrongLight = crop.Light == LightNeed.NeedsLight && batch.Stays.Count > 0
                && batch.Stays[batch.EndedAt is null ? ^1 : 0] is var stay && IsDark(stay)
                && !HomeNeeds.NightsReplaceLight(home, crop, stay.Spot, now),
            Water = water.Of(batch, seen.By ?? until),
            Dry = forecasts.Dry(batch, crop),
        };
    }

    // The cold that its seed needs is no cold that held it back.
    private static HoursSeen Unchilled(HoursSeen hours, ChillState? chill) => chill is null ? hours
        : hours with { HoursBelow = Math.Max(0, hours.HoursBelow - 24 * chill.Days) };

    private static (double Low, double High)? Days(TimeEstimate? first) =>
        first is { Low: { } low, High: { } high } ? (low.TotalDays, high.TotalDays) : null;

    private static BatchPhase PhaseOf(Batch batch, EmergenceForecast? forecast) => forecast switch
    {
        _ when batch.IsPastWaiting => BatchPhase.Over,
        { Stop.NeedsLook: true } => BatchPhase.Unseen,
        { Stop.IsDue: true } => BatchPhase.Due,
        _ => BatchPhase.Waiting,
    };

    // The forecast at sowing costs as much as today's: it is asked for only where it can tell something.
    private static bool MayBeLate(Batch batch, BatchPhase phase) =>
        phase is BatchPhase.Due or BatchPhase.Over || batch.Looks is [.., { Up: 0 }];

    private StandTally Stand(Batch batch, Crop crop, Instant until)
    {
        var tally = default(StandTally);
        foreach (var stretch in home.TraceOf(batch, new(batch.SownAt, until)).Stretches)
        {
            var last = (TemperatureSample?)null;
            foreach (var sample in stretch.Samples)
            {
                if (last is { } before)
                {
                    tally = tally.With(crop.Stand, crop.Profile.Cardinals, (sample.At - before.At).TotalHours,
                        (sample.Temperature.Celsius + before.Temperature.Celsius) / 2);
                }

                last = sample;
            }
        }

        return tally;
    }

    private bool IsDark(Stay stay) => spots.Value.GetValueOrDefault(stay.Spot)?.Light == LightLevel.Dark;

    private LightLevel LightOf(SpotId spot) => spots.Value.GetValueOrDefault(spot)?.Light ?? LightLevel.Dim;

    private static Instant LastRise(Batch batch)
    {
        var top = batch.Looks[^1].Up;
        return batch.Looks.First(look => look.Up == top).At;
    }

    private double WarmDarkHours(Batch batch, Crop crop)
    {
        if (WarmDark.Window(batch, LightOf, now) is not { } window)
        {
            return 0;
        }

        var trace = home.TraceOf(batch, window);
        return WarmDark.Hours(crop, trace.Stretches.SelectMany(stretch => stretch.Samples), window, trace.MaxGap).TotalHours;
    }
}

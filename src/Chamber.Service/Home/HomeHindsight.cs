using System.Collections.Concurrent;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Statistics;
using Chamber.Storage.Past;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>A batch with the forecast it had when it was sown and what came of it.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="Crop">Its crop.</param>
/// <param name="AtSowing">The forecast from what was known then.</param>
/// <param name="Compared">First, half and nine in ten, as far as looks prove them.</param>
internal sealed record BatchHindsight(Batch Batch, Crop Crop, EmergenceForecast AtSowing, IReadOnlyList<PredictedActual> Compared);

/// <summary>How well this home's forecasts have done: each from nothing but what was known at its time.</summary>
internal sealed class HomeHindsight(HomeReader home, Instant now)
{
    private static readonly Milestone[] Compared = [Milestone.First, Milestone.Half, Milestone.Most];

    private readonly HomeForecasts today = home.At(now).Forecasts;
    private readonly ConcurrentDictionary<Batch, BatchHindsight?> known = new(ReferenceEqualityComparer.Instance);
    private readonly ConcurrentDictionary<BatchId, EmergencePrior?> priors = new();
    private IReadOnlyList<BatchHindsight>? all;

    /// <summary>The forecast that a batch had at its sowing, looked at since or not; null when nothing was measured.</summary>
    public BatchHindsight? Of(Batch batch) => known.GetOrAdd(batch, Judge);

    private BatchHindsight? Judge(Batch batch) => PriorOf(batch) is { } prior ? Of(batch, prior) : null;

    // What all the others had taught by its sowing. To know it for one, all that were sown before are gone through; whoever asks for one
    // batch under way soon asks for the others. One that nobody has looked at is no part of what the others go through.
    private EmergencePrior? PriorOf(Batch batch)
    {
        if (!priors.ContainsKey(batch.Id))
        {
            var unseen = Unseen(batch).ToList();
            var wanted = (unseen.Count > 0 ? [] : home.Ledger.OpenBatches.Where(one => home.Catalog.Find(one.Crop) is not null))
                .Append(batch).DistinctBy(one => one.Id).ToDictionary(one => one.Id);
            var found = Hindsight.PriorsOf(wanted.Keys.ToHashSet(), [.. today.Evidence(), .. unseen],
                evidence => Then(wanted[evidence.Id], home.Catalog.Find(evidence.Kind.Crop)!, evidence.SownAt));
            foreach (var id in wanted.Keys.Where(id => id == batch.Id || found.ContainsKey(id)))
            {
                priors[id] = found.GetValueOrDefault(id);
            }
        }

        return priors.GetValueOrDefault(batch.Id);
    }

    /// <summary>Every batch that was looked at, the last sown first; those of which nothing was measured are left out.</summary>
    public IReadOnlyList<BatchHindsight> All() => all ??= JudgeAll();

    private IReadOnlyList<BatchHindsight> JudgeAll()
    {
        var batches = home.Ledger.Batches.ToDictionary(batch => batch.Id);
        return [.. Priors().Select(pair => Of(batches[pair.Batch.Id], pair.Prior)).OfType<BatchHindsight>().Reverse()];
    }

    /// <summary>How well one milestone was foretold over some batches; null when none can be compared.</summary>
    public static PredictionScore? Score(IEnumerable<BatchHindsight> batches, Milestone milestone) =>
        PredictionScore.Of([.. batches.SelectMany(batch => batch.Compared).Where(each => each.Milestone == milestone)]);

    /// <summary>The comparisons of one batch.</summary>
    public static IReadOnlyList<PredictedActual> Compare(Batch batch, EmergenceForecast forecast) =>
        [.. Compared.Select(milestone => PredictedActual.Of(batch, milestone, forecast[milestone])).OfType<PredictedActual>()];

    /// <summary>The forecasts of a batch day by day, each as it was given then: from what was written down and received by then. On days
    /// before it was written down, as when a notebook was copied later, from what is known of them today. Null when nobody has looked at it
    /// or nothing was measured.</summary>
    public IReadOnlyList<ReplayDay>? Replay(Batch batch)
    {
        if (home.Catalog.Find(batch.Crop) is not { } crop || today.EvidenceOf(batch) is null
            || today.Course(batch, crop, now) is not { } course)
        {
            return null;
        }

        // What all the others had taught by its sowing is asked for on days before it was written down alone.
        var prior = new Lazy<EmergencePrior>(() => PriorOf(batch)!, LazyThreadSafetyMode.PublicationOnly);
        var facts = new PastFacts(AtHand.Of(home.Store.FactsSinceAsync(0)));
        var names = facts.Present.NamesOf(FactSubject.Of(batch.Id)).Select(name => name.Name).ToHashSet();
        return Core.Forecasts.Replay.Days(batch, at => DayAsOf(facts, names, crop, at)
            ?? Core.Forecasts.Replay.Day(batch, prior.Value, at, course, Ahead(batch, crop, at).Ahead));
    }

    // The home as --as-of has it, asked for the forecast; null when nobody had written the batch down by then, under any of its names, or
    // nothing could be said.
    private ReplayDay? DayAsOf(PastFacts facts, HashSet<string> names, Crop crop, Instant at)
    {
        var known = new HomeAsOf(home.Store, home.Records, facts, at);
        var then = new HomeReader(known, known, home.Catalog, home.Zone) { Now = at, Scale = home.Scale, StopBelow = home.StopBelow };
        if (then.Ledger.Batches.FirstOrDefault(one => names.Contains(one.Id.Text)) is not { } batch)
        {
            return null;
        }

        var forecasts = then.AtNow.Forecasts;
        return forecasts.Of(batch) is { } forecast && forecasts.Course(batch, crop, at) is { } course
            ? new(at, batch.Looks is [.., var last] ? last.Up : 0, course.At(at).CelsiusHours, forecast)
            : null;
    }

    private IEnumerable<(BatchEvidence Batch, EmergencePrior Prior)> Priors()
    {
        var batches = home.Ledger.Batches.ToDictionary(batch => batch.Id);
        return Hindsight.Priors(today.Evidence(),
            evidence => Then(batches[evidence.Id], home.Catalog.Find(evidence.Kind.Crop)!, evidence.SownAt));
    }

    // A batch that nobody has looked at has shown nothing, but it too was sown with a forecast.
    private IEnumerable<BatchEvidence> Unseen(Batch batch) =>
        home.Catalog.Find(batch.Crop) is { } crop && batch.Looks.All(look => look.At > now) && today.Course(batch, crop, now) is not null
            ? [new(batch.Id, BatchKind.Of(batch, crop), SeenCounts.Nothing(batch.Seeds), Germinability.OfUnknownLot(crop),
                batch.SownAt, null)]
            : [];

    private BatchHindsight? Of(Batch batch, EmergencePrior prior)
    {
        if (home.Catalog.Find(batch.Crop) is not { } crop)
        {
            return null;
        }

        var forecast = Forecaster.Forecast(prior,
            Situation.AtSowing(batch.Seeds, batch.Method.Event(), Ahead(batch, crop, batch.SownAt).Ahead, batch.SownAt));
        return new(batch, crop, forecast, Compare(batch, forecast));
    }

    private BelievedThen Then(Batch batch, Crop crop, Instant at) =>
        Ahead(batch, crop, at) is { } ahead ? new(ahead.Germinable, ahead.PerBaseKelvin) : default;

    /// <summary>
    /// What was to be expected then of the spot. Where nothing had been measured before, the batch's own temperatures stand in, or the
    /// spot as it is known today: not known at the time, but the only ones there are.
    /// </summary>
    private (WarmthOutlook Ahead, ShareBelief Germinable, double PerBaseKelvin) Ahead(Batch batch, Crop crop, Instant at)
    {
        var then = new HomeForecasts(home, at, HomeKnowledge.Nothing);
        if (then.Ahead(batch, crop) is { } ahead)
        {
            return ahead;
        }

        var end = Instant.Max(at + Duration.FromHours(1), batch.EndedAt ?? now);
        var own = home.TraceOf(batch, new(at, end)).Stretches.SelectMany(stretch => stretch.Samples).ToList();
        if (own.Count == 0)
        {
            return today.Ahead(batch, crop)
                ?? throw new InvalidOperationException($"Batch {batch.Id} has warm-hours without a temperature.");
        }

        var planned = new PlannedOutlook(crop.Profile.Cardinals, own);
        return (planned, Germinability.Along(then.Share(batch, crop), crop.Stand, planned.Course), planned.Course.PerBaseKelvinOf(crop));
    }
}

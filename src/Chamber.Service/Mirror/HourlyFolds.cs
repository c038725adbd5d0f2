using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>Lines of one hour, from this home as it was known then. Made for a few hours at once: what doesn't change between them is read
/// once.</summary>
internal sealed class HourlyFolds(HomeReader home, Instant now)
{
    private const int CropsMax = 20;

    // Of the past, suitability and forecasts are sent once a day and not for longer than this: each rests on a fortnight of readings.
    private static readonly Duration ForecastsBack = Duration.FromDays(60);
    private static readonly Duration JustPassed = Duration.FromHours(2);

    private readonly IReadOnlyList<Station> stations = home.Ledger.Stations;
    private readonly IReadOnlyList<Batch> batches = home.Ledger.Batches;
    private readonly IReadOnlyList<CropId> lotCrops = [.. home.Ledger.Lots.Select(lot => lot.Crop).Distinct()];
    private readonly IReadOnlyList<Spot> spots = home.Spots();
    private readonly HomeForecasts present = new(home, now);
    private readonly Dictionary<BatchId, WarmthCourse?> courses = [];

    public void AddPlacesAndForecasts(Instant hour, List<string> lines)
    {
        lines.AddRange(stations.Where(station => station.When.Contains(hour))
            .Select(station => Measurements.Station.Line(hour, [station.Probe.Text, station.Spot.Text], [1])!));
        var standing = batches.Where(batch => batch.SownAt <= hour && !(batch.EndedAt <= hour))
            .Select(batch => BatchAsOf.Of(batch, hour)!).ToList();
        foreach (var batch in standing.Where(batch => batch.Stays.Count > 0))
        {
            lines.Add(Measurements.Stay.Line(hour, [batch.Id.Text, batch.Stays[^1].Spot.Text], [1])!);
        }

        if (IsTold(hour))
        {
            AddSuitability(hour, standing, lines);
            AddForecasts(hour, standing, lines);
        }
    }

    public void AddWarmth(Instant hour, List<string> lines)
    {
        foreach (var batch in batches.Where(batch => batch.SownAt <= hour && !(batch.EndedAt < hour)))
        {
            if (home.Catalog.Find(batch.Crop) is { } crop && Course(batch, crop) is { } course)
            {
                var up = batch.Looks.LastOrDefault(look => look.At <= hour)?.Up;
                lines.Add(Measurements.Warmth.Line(
                    hour, [batch.Id.Text, batch.Crop.Text],
                        [course.At(hour).CelsiusHours, present.HalfOf(batch, crop).CelsiusHours, batch.Seeds, up])!);
            }
        }
    }

    private bool IsTold(Instant hour) => now - hour < JustPassed || (now - hour < ForecastsBack && hour.InZone(home.Zone).Hour == 0);

    private void AddSuitability(Instant hour, List<Batch> standing, List<string> lines)
    {
        var crops = standing.Select(batch => batch.Crop).Concat(lotCrops).Distinct().Take(CropsMax).Select(home.Catalog.Find)
            .OfType<Crop>().ToList();
        var then = home.At(hour).Forecasts;
        foreach (var spot in spots)
        {
            var survey = home.Survey(spot.Id, hour);
            var score = new SuitabilityScore(HomeReader.FixedRandom());
            foreach (var crop in crops)
            {
                var suits = score.Of(crop, survey);
                if (suits.Confidence > 0)
                {
                    lines.Add(Measurements.Suitability.Line(
                        hour,
                        [spot.Id.Text, crop.Id.Text],
                        [suits.Score, suits.Low, suits.High, suits.Confidence, suits.Parts.WarmHoursPerDay.CelsiusHours,
                            HomeRankings.DaysToHalf(then, crop, spot.Id, suits.DaysToHalf)])!);
                }
            }
        }
    }

    private void AddForecasts(Instant hour, List<Batch> standing, List<string> lines)
    {
        var then = home.At(hour).Forecasts;
        foreach (var batch in standing)
        {
            if (then.Of(batch) is { } forecast && Line(hour, batch, forecast) is { } line)
            {
                lines.Add(line);
            }
        }
    }

    private static string? Line(Instant hour, Batch batch, EmergenceForecast forecast) => Measurements.Forecast.Line(
        hour,
        [batch.Id.Text, batch.Crop.Text],
        [
            forecast.First.Mid?.TotalDays,
            forecast.First.Low?.TotalDays,
            forecast.First.High?.TotalDays,
            forecast.Half.Mid?.TotalDays,
            forecast.Half.Low?.TotalDays,
            forecast.Half.High?.TotalDays,
            forecast.Half.Mid is { } half ? (batch.SownAt + half).ToUnixTimeSeconds() : null,
            forecast.Most.Mid?.TotalDays,
            forecast.Stop.After?.TotalDays,
            forecast.ChanceOfMore,
        ]);

    private WarmthCourse? Course(Batch batch, Crop crop)
    {
        if (!courses.TryGetValue(batch.Id, out var course))
        {
            courses[batch.Id] = course = present.Course(batch, crop, now);
        }

        return course;
    }
}

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
internal sealed class HourlyFolds(HomeReader home, Instant now, string? tag)
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

    /// <summary>Who came and went after a moment and until another: a line of that very moment each.</summary>
    public void AddMoves(Instant after, Instant until, List<string> lines)
    {
        foreach (var (measurement, what, spot, when) in Stands())
        {
            if (when.HasStart && IsWithin(when.Start))
            {
                lines.Add(measurement.Line(tag, when.Start, [what, spot], [1])!);
            }

            if (when.HasEnd && IsWithin(when.End))
            {
                lines.Add(measurement.Line(tag, when.End, [what, spot], [0])!);
            }
        }

        bool IsWithin(Instant at) => at > after && at <= until;
    }

    /// <summary>That something does not stand where it was said to stand.</summary>
    public void AddAbsences(IEnumerable<(Measurement Measurement, string What, string Spot)> said, List<string> lines) =>
        lines.AddRange(said.Except(Stands().Where(one => one.When.Contains(now)).Select(one => (one.Measurement, one.What, one.Spot)))
            .Select(one => one.Measurement.Line(tag, now, [one.What, one.Spot], [0])!));

    public void AddPlacesAndForecasts(Instant hour, List<string> lines)
    {
        AddMoves(hour - Duration.FromHours(1), hour, lines);
        lines.AddRange(stations.Where(station => station.When.Contains(hour))
            .Select(station => Measurements.Station.Line(tag, hour, [station.Probe.Text, station.Spot.Text], [1])!));
        var standing = batches.Where(batch => batch.SownAt <= hour && !(batch.EndedAt <= hour))
            .Select(batch => BatchAsOf.Of(batch, hour)!).ToList();
        foreach (var batch in standing.Where(batch => batch.Stays.Count > 0))
        {
            lines.Add(Measurements.Stay.Line(tag, hour, [batch.Id.Text, batch.Stays[^1].Spot.Text], [1])!);
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
                    tag, hour, [batch.Id.Text, batch.Crop.Text],
                        [course.At(hour).CelsiusHours, present.HalfOf(batch, crop).CelsiusHours, batch.Seeds, up])!);
            }
        }
    }

    private IEnumerable<(Measurement Measurement, string What, string Spot, Interval When)> Stands() =>
        stations.Select(one => (Measurements.Station, one.Probe.Text, one.Spot.Text, one.When))
            .Concat(batches.SelectMany(batch => batch.Stays.Select(stay => (Measurements.Stay, batch.Id.Text, stay.Spot.Text, stay.When))));

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
                        tag, hour,
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

    private string? Line(Instant hour, Batch batch, EmergenceForecast forecast) => Measurements.Forecast.Line(
        tag, hour,
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

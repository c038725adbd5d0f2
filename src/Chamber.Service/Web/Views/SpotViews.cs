using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>Reads the spots of a home for the pages.</summary>
internal static class SpotViews
{
    private static readonly Duration Day = Duration.FromHours(24);

    /// <summary>All spots: by name, or the best for a crop first.</summary>
    public static IReadOnlyList<SpotView> Read(PageHome page, HomeReader home, Crop? crop)
    {
        var surveys = home.Surveys(home.Now).ToList();
        var (latest, gaps) = (Latest(home), Gaps(home));
        IEnumerable<(SurveyedSpot Spot, RankedSpot? Ranked)> order = crop is null
            ? surveys.Select(spot => (spot, (RankedSpot?)null))
            : HomeRankings.ForCrop(home, crop, surveys)
                .Select(ranked => (surveys.Single(spot => spot.Spot.Id == ranked.Spot.Id), (RankedSpot?)ranked));
        return [.. order.Select(pair => View(page, home, pair.Spot, pair.Ranked, latest, gaps))];
    }

    /// <summary>One spot, with how well it serves a crop.</summary>
    public static SpotView One(PageHome page, HomeReader home, Spot spot, Crop? crop)
    {
        var surveyed = new SurveyedSpot(spot, home.Survey(spot.Id, home.Now));
        return View(page, home, surveyed, crop is null ? null : HomeRankings.Best(home, crop, [surveyed]),
            Latest(home), Gaps(home)) with { Moisture = SpotMoisture.Words(home, spot.Id, page.Now) };
    }

    private static Dictionary<ProbeId, Instant> Latest(HomeReader home) =>
        home.Ledger.Readings.Latest(home.Now).Values.ToDictionary(reading => reading.Probe, reading => reading.MeasuredAt);

    private static Dictionary<ProbeId, Duration> Gaps(HomeReader home) =>
        home.Ledger.Probes.ToDictionary(entry => entry.Probe.Id, entry => entry.Probe.MaxGap);

    private static SpotView View(PageHome page, HomeReader home, SurveyedSpot spot, RankedSpot? ranked, Dictionary<ProbeId, Instant> latest,
        Dictionary<ProbeId, Duration> gaps)
    {
        var now = SpotNowAnswer.Of(home, spot);
        var day = new Interval(page.Now - Day, page.Now);
        var heard = now.Probes.Where(latest.ContainsKey)
            .Select(probe => (At: latest[probe], Gap: gaps.GetValueOrDefault(probe, Probe.DefaultMaxGap))).ToList();
        return new(
            now,
            spot.Survey,
            DaySketch.Of(home.Trace(spot.Spot.Id, day), day, page.Scale),
            heard.Count == 0 ? null : heard.Max(one => one.At),
            heard.Count > 0 && heard.All(one => page.Now - one.At > one.Gap),
            ranked)
        {
            Title = home.Ledger.Names.Of(spot.Spot.Id),
        };
    }
}

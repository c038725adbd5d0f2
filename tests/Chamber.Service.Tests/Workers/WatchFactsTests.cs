using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>What the service gives the watch to know, over a real data file. Readings are
/// invented.</summary>
public sealed class WatchFactsTests : IDisposable
{
    private static readonly ProbeId Probe = new("soil");
    private static readonly SpotId Shelf = new("shelf");

    /// <summary>A Monday.</summary>
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 2, 0, 0);

    private readonly TempFolder folder = new();
    private readonly ChamberStore store;

    public WatchFactsTests()
    {
        store = ChamberStore.Open(folder.File("chamber.db"));
        store.Ledger.SetUp.Save(new Spot(Shelf, SpotKind.Shelf, LightLevel.Dim, 2));
        store.Ledger.SetUp.Save(new ProbeEntry(new(Probe, Measurand.Media, Duration.FromHours(2))));
        store.Ledger.SetUp.Put(Probe, Shelf, Start);
    }

    private HomePen Pen => store.Ledger.By(Core.Facts.Author.Program, Start);

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void The_survey_of_a_week_counts_from_its_end_on()
    {
        Measure(Start, 10, 21);
        var survey = Assert.Single(Facts(Start + Duration.FromDays(10)).Surveys);
        Assert.Equal((Shelf, Start + Duration.FromDays(7)), (survey.Spot, survey.At));
        Assert.Equal(21, survey.Mean.Celsius, 0.06);
    }

    [Fact]
    public void Of_less_than_three_days_nothing_is_surveyed()
    {
        Measure(Start + Duration.FromDays(5), 2, 21);
        Assert.Empty(Facts(Start + Duration.FromDays(10)).Surveys);
    }

    [Fact]
    public void A_spot_that_has_left_its_survey_is_told_until_a_new_week_is_surveyed()
    {
        // Too few days yet to tell a drift, which would tell the same cause.
        Measure(Start + Duration.FromDays(3), 4, 20);
        Measure(Start + Duration.FromDays(7), 7, 23);
        Assert.Equal([AlertKind.SurveyStale], Rebuilt(Start + Duration.FromDays(10)).Open().Select(alert => alert.Kind));
        Assert.DoesNotContain(Rebuilt(Start + Duration.FromDays(14) + Duration.FromHours(1)).Open(),
            alert => alert.Kind == AlertKind.SurveyStale);
    }

    [Fact]
    public void While_that_is_told_the_survey_is_stale_and_says_so()
    {
        Measure(Start, 10, 25);
        Assert.Equal(SurveyStage.Normal, Read().Stage);

        var told = new AlertEntry(0, AlertKind.SurveyStale, AlertSubject.Of(Shelf), Severity.Note,
            Start, Start, "{}");
        var number = store.Ledger.Alerts.Save(told);
        Assert.Equal(SurveyStage.Stale, Read().Stage);
        var ranked = SpotRanking.ForCrop(CropCatalog.Shipped.Require("tomato"), [new(store.Ledger.SetUp.Spots()[0], Read())],
            HomeReader.FixedRandom());
        Assert.EndsWith(" (stale: it has changed since the survey).", ranked[0].Because(), StringComparison.Ordinal);

        store.Ledger.Alerts.Save(
            told with { Number = number, ClosedAt = Start + Duration.FromDays(9), CloseReason = CloseReason.Over });
        Assert.Equal(SurveyStage.Normal, Read().Stage);

        Survey Read() =>
            new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc).Survey(Shelf, Start + Duration.FromDays(10));
    }

    // Whoever only imports files runs no watch.
    [Fact]
    public void Where_no_watch_runs_the_survey_is_found_stale_by_the_same_rule()
    {
        Measure(Start, 7, 21);
        Measure(Start + Duration.FromDays(7), 4, 24);
        Assert.Equal(SurveyStage.Normal, Read(Duration.FromDays(8.5)).Stage);
        Assert.Equal(SurveyStage.Stale, Read(Duration.FromDays(10)).Stage);

        Survey Read(Duration after) =>
            new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc).Survey(Shelf, Start + after);
    }

    [Fact]
    public void What_is_done_to_single_plants_takes_the_cover_off_and_light_does_not()
    {
        var sown = Start;
        store.Ledger.Batches.Sow(new(new("T1"), new("tomato"), null, SowingMethod.CoveredMix, sown, 12, [new(Shelf, new(sown, null))],
            [new(sown + Duration.FromDays(6), 4)]));
        store.Ledger.Batches.Record(new("T1"), new Stage(StageKind.MovedToLight, sown + Duration.FromDays(6)));
        Assert.Null(Assert.Single(Facts(sown + Duration.FromDays(7)).Batches).CoverOffAt);
        store.Ledger.Batches.Record(new("T1"), new Stage(StageKind.Uncovered, sown + Duration.FromDays(7)));
        Assert.Equal(sown + Duration.FromDays(7), Assert.Single(Facts(sown + Duration.FromDays(8)).Batches).CoverOffAt);
    }

    [Fact]
    public void Maintenance_excuses_silence()
    {
        Measure(Start, 1, 21);
        Pen.Alerts.Work(Shelf, new(Start + Duration.FromDays(1), Start + Duration.FromDays(2)));
        Assert.Empty(Rebuilt(Start + Duration.FromDays(2)).Open());
        Assert.Equal([AlertKind.SilentProbe], Rebuilt(Start + Duration.FromDays(2) + Duration.FromHours(3)).Open()
            .Select(alert => alert.Kind));
    }

    [Fact]
    public void Readings_that_are_set_aside_are_known_to_the_watch()
    {
        Measure(Start, 1, 21);
        Pen.Write(new ReadingsSetAside(Probe, Start + Duration.FromHours(4)).At(Start + Duration.FromHours(2)));

        Assert.Equal([new(Probe, new(Start + Duration.FromHours(2), Start + Duration.FromHours(4)))],
            Facts(Start + Duration.FromDays(1)).SetAside);
    }

    private HomeFacts Facts(Instant now)
    {
        var settings = new Settings { Home = new() { Zone = DateTimeZone.Utc } };
        var data = new DataDirectory(folder.Path);
        return new WatchFacts(new(store, settings, data, TimeProvider.System), new(settings, data, [])).At(now);
    }

    private HomeWatch Rebuilt(Instant now)
    {
        var watch = new HomeWatch(Facts(now));
        watch.Rebuild(probe => store.Journal.Read(probe, new(Start, now)), now);
        return watch;
    }

    private void Measure(Instant from, int days, double celsius) => store.Journal.Append(
        [.. Enumerable.Range(0, days * 48).Select(index => from + Duration.FromMinutes(30 * index)).Select((at, index) =>
            new Reading(Probe, at, at, Temperature.FromCelsius(celsius + index % 2 * 0.1)))],
        []);
}

using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Notify;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>What is told of a time in which nobody watched, and what is added when readings of it come late; over a real data file.
/// Readings, times and counts are invented.</summary>
public sealed class AbsenceTellerTests : IDisposable
{
    private static readonly Interval Away = new(Instant.FromUtc(2026, 3, 2, 2, 10), Instant.FromUtc(2026, 3, 2, 6, 40));
    private static readonly SpotId Shelf = new("shelf");
    private static readonly ProbeId Probe = new("soil");

    private readonly TempFolder folder = new();
    private readonly ChamberStore store;
    private readonly List<(Instant At, Notice Notice)> told = [];
    private AbsenceTeller teller;
    private Instant now = Away.End;

    public AbsenceTellerTests()
    {
        store = ChamberStore.Open(folder.File("chamber.db"));
        foreach (var spot in new[] { Shelf, new("sill") })
        {
            store.Ledger.SetUp.Save(new Spot(spot, SpotKind.Shelf, LightLevel.Dim, 2));
        }

        store.Ledger.SetUp.Save(new ProbeEntry(new(Probe, Measurand.Media, Duration.FromHours(2))));
        store.Ledger.SetUp.Put(Probe, Shelf, Away.Start - Duration.FromDays(1));
        store.Ledger.Alerts.Save(new OutageEntry(Away, OutageCause.Service));
        teller = Start();
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void What_the_broker_had_kept_is_told_once_it_has_come_in()
    {
        Pass(seconds: 5);
        Arrive((3, 22), (4, 34));
        Pass(seconds: 15);
        Assert.Empty(told);
        Pass(seconds: 10);

        Assert.StartsWith("I was not watching from 02:10 to 06:40: shelf reached 34 °C, and was never below 22 °C.\nOf one other spot "
            + "nothing is known.", Words(Assert.Single(told).Notice), StringComparison.Ordinal);
        Pass(seconds: 3600);
        Assert.Single(told);
    }

    [Fact]
    public void What_comes_in_later_corrects_what_was_said()
    {
        Pass(seconds: 60);
        Assert.StartsWith("I was not watching from 02:10 to 06:40: Nothing is known of that time: no reading of it has come in yet.",
            Words(told[^1].Notice), StringComparison.Ordinal);

        Pass(seconds: 7200);
        Arrive((3, 22), (4, 34));
        Pass(seconds: 30);
        Assert.StartsWith("More is known of when I was not watching, from 02:10 to 06:40: shelf reached 34 °C, and was never below 22 "
            + "°C.\nOf one other spot nothing is known.", Words(told[^1].Notice), StringComparison.Ordinal);

        store.Journal.Append([Read(At(5), 37)], []);
        teller.Note(new(null, null));
        Pass(seconds: 30);
        Assert.StartsWith("More is known of when I was not watching, from 02:10 to 06:40: shelf reached 37 °C", Words(told[^1].Notice),
            StringComparison.Ordinal);
        Assert.Equal(3, told.Select(one => one.Notice.Id).Distinct().Count());
    }

    [Fact]
    public void What_comes_in_and_shows_nothing_new_is_not_worth_a_word()
    {
        Arrive((3, 22), (4, 34));
        Pass(seconds: 60);
        Arrive((3.5, 30), (4.5, 34.3));
        Pass(seconds: 60);
        store.Journal.Append([Read(Away.End + Duration.FromHours(1), 45)], []);
        teller.Note(new(Away.End + Duration.FromHours(1), Away.End + Duration.FromHours(2)));
        Pass(seconds: 60);

        Assert.Single(told);
    }

    [Fact]
    public void After_a_second_outage_the_start_tells_what_came_in_once()
    {
        Arrive((3, 22), (4, 30));
        Pass(seconds: 60);
        store.Journal.Append([Read(At(5), 36)], []);
        teller = Start();
        Pass(seconds: 60);
        Assert.Equal(2, told.Count);

        teller = Start();
        Pass(seconds: 600);
        Assert.Equal(2, told.Count);
    }

    [Fact]
    public void Corrections_have_a_bound()
    {
        for (var more = 0; more < 12; more++)
        {
            Arrive((3 + more / 10.0, 22 + more));
            Pass(seconds: 60);
        }

        Assert.Equal(5, told.Count);
    }

    private static string Words(Notice notice) => $"{notice.Title}: {notice.Body}";

    private static Instant At(double hour) => Instant.FromUtc(2026, 3, 2, 0, 0) + Duration.FromHours(hour);

    private static Reading Read(Instant at, double celsius) => new(Probe, at, at, Temperature.FromCelsius(celsius));

    private AbsenceTeller Start() => new(
        store,
        () => new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc),
        notice =>
        {
            told.Add((now, notice));
            return 1;
        },
        new NoticeComposer(NoticeTemplates.Load(new DataDirectory(folder.Path)), () => null, DateTimeZone.Utc),
        NullLogger<AbsenceTeller>.Instance);

    private void Arrive(params (double Hour, double Celsius)[] readings)
    {
        store.Journal.Append([.. readings.Select(reading => Read(At(reading.Hour), reading.Celsius))], []);
        teller.Note(new(At(readings.Min(reading => reading.Hour)), At(readings.Max(reading => reading.Hour)) + Duration.Epsilon));
        teller.Pass(now);
    }

    private void Pass(int seconds)
    {
        for (var second = 0; second < seconds; second++)
        {
            now += Duration.FromSeconds(1);
            teller.Pass(now);
        }
    }
}

using System.Globalization;
using System.Text.Json;
using Chamber.Club.Moving;
using Chamber.Club.Store;
using Chamber.Club.Tests;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Watching;
using Chamber.Service.Tests.Commands;
using Chamber.Service.Tests.Storage.Seam;
using Chamber.Storage;
using Chamber.Storage.Past;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Home;

/// <summary>Answers rest on facts and readings, and not on a kind of database: the same home on the data file, on a store in memory, which
/// answers later and not at once, and in a club on PostgreSQL says the same, now and as of an earlier time. The home is invented.</summary>
public sealed class AnyStoreTests(ClubServer server) : IDisposable
{
    private static readonly Crop Tomato = CropCatalog.Shipped.Require("tomato");

    private static readonly (string Name, Func<HomeReader, object?> Ask)[] Questions =
    [
        ("probes", ProbeList.Read),
        ("spots", home => home.Surveys(home.Now).Select(spot => SpotNowAnswer.Of(home, spot)).ToList()),
        ("ranking", home => HomeRankings.ForCrop(home, Tomato, home.Surveys(home.Now)).Select(RankingAnswer.Of).ToList()),
        ("moisture", home => home.Spots().Select(spot => SpotMoisture.Words(home, spot.Id, home.Now)).ToList()),
        ("lots", home => home.AtNow.Seeds.All().Select(LotAnswer.Of).ToList()),
        ("batches", home => home.Ledger.Batches.Select(home.AtNow.Diagnoses.Of).Select(BatchAnswer.Of).ToList()),
        ("whole", home => home.Ledger.Batches.Select(batch => BatchWhole.Of(home, batch, home.Now)).ToList()),
        ("hindsight", home => HindsightAnswer.Of(home.AtNow.Hindsight.All())),
        ("replay", home => home.Ledger.Batches.Take(1).Select(home.AtNow.Hindsight.Replay).Select(days =>
            days?.Select(day => (day.At, day.Up, day.WarmHours, day.Forecast.Half.Mid)).Select(day => day.ToString())).ToList()),
        ("placing", home => PlacingAnswer.Of(home, HomePlacing.Solve(home, home.Now, ["basil:6"], newOnly: false)).ToList()),
        ("today", home => new HomeToday(home, home.Now).Read(new(false, DateTimeZone.Utc), 7)),
        ("digest", home => HomeDigest.Of(home, home.Now)),
        ("alerts", home => new HomeAlerts(home, new(false, DateTimeZone.Utc)).All(home.Now - Duration.FromDays(30))
            .Select(one => one.Words).ToList()),
        ("week", home => WeekAnswer.Of(home, home.Now, null)),
    ];

    private readonly HomeRig rig = new();

    [Fact]
    public Task The_same_home_gives_the_same_answers_on_the_file_and_in_memory() => SaysTheSame(async file =>
    {
        var memory = new MemoryHomeStore();
        await Copy(file.Home, memory);
        return memory;
    });

    [Fact]
    public async Task A_home_moved_into_a_club_gives_the_same_answers()
    {
        await using var club = await server.Database();
        await SaysTheSame(_ => MovedInto(club));
    }

    [Fact]
    public async Task A_home_moved_into_a_club_and_out_gives_the_same_answers()
    {
        await using var club = await server.Database();
        using var elsewhere = new HomeRig();
        ChamberStore? back = null;
        await SaysTheSame(async _ =>
        {
            await MovedInto(club);
            await HomeMove.ExportAsync(club, "mill-lane-4", rig.File("out"), TestContext.Current.CancellationToken);
            await elsewhere.Do($"import-home {rig.File("out")}");
            return (back = ChamberStore.Open(elsewhere.File("chamber.db"))).Home;
        });
        back!.Dispose();
    }

    [Fact]
    public async Task No_thread_waits_for_a_store_that_answers_late()
    {
        await Furnish();
        var now = Instant.FromDateTimeOffset(rig.Clock.GetUtcNow());
        using var file = ChamberStore.Open(rig.File("chamber.db"));
        var expected = await Answers(file.Home, file.Records, now);
        var late = new LateHome(file.Home, file.Records);

        // A thread of its own, on which what follows from an answer is done at once.
        var answers = await Wait.For("answers that come late", Task.Run(async () => await late.LetGo(Answers(late, late, now))));

        Assert.Equal(expected, answers);
        Assert.InRange(late.Answers, Questions.Length, 500);
    }

    public void Dispose() => rig.Dispose();

    private async Task SaysTheSame(Func<ChamberStore, Task<IHomeStore>> move)
    {
        await Furnish();
        var now = Instant.FromDateTimeOffset(rig.Clock.GetUtcNow());
        using var file = ChamberStore.Open(rig.File("chamber.db"));
        file.Ledger.Alerts.Save(new AlertEntry(0, AlertKind.TooCold, AlertSubject.Of(new SpotId("sill")), Severity.Warning,
            now - Duration.FromHours(9), now - Duration.FromHours(8), "{}"));
        var other = await move(file);
        var alerts = await file.Records.AlertsAsync(now - Duration.FromDays(400), TestContext.Current.CancellationToken);
        var records = new MemoryHomeRecords(alerts);

        var onFile = await Answers(file.Home, file.Records, now);
        Assert.Equal(onFile, await Answers(other, records, now));
        Assert.Contains("\"probe\": \"soil-2\"", onFile["probes"], StringComparison.Ordinal);

        var then = now - Duration.FromHours(30);
        var facts = new PastFacts(await file.Home.FactsSinceAsync(0, TestContext.Current.CancellationToken));
        var past = new HomeAsOf(file.Home, file.Records, facts, then);
        var otherPast = new HomeAsOf(other, records, facts, then);
        var before = await Answers(past, past, then);
        Assert.Equal(before, await Answers(otherPast, otherPast, then));
        Assert.Contains("\"probe\": \"soil\"", before["probes"], StringComparison.Ordinal);
        Assert.NotEqual(onFile["batches"], before["batches"]);
    }

    private static async Task<Dictionary<string, string>> Answers(IHomeStore store, IHomeRecords records, Instant now)
    {
        var known = store.IsAtHand ? store : new LoadedStore(store);
        var home = new HomeReader(known, new LoadedRecords(records), CropCatalog.Shipped, DateTimeZone.Utc) { Now = now };
        var answers = new Dictionary<string, string>();
        foreach (var (name, ask) in Questions)
        {
            answers[name] = await AtHand.AskAsync(() => JsonSerializer.Serialize(ask(home), JsonText.Options));
        }

        return answers;
    }

    private async Task<IHomeStore> MovedInto(ClubDatabase club)
    {
        var stop = TestContext.Current.CancellationToken;
        await rig.Do($"export --all --out {rig.File("taken")}");
        await HomeMove.ImportAsync(club, "mill-lane-4", rig.File("taken"), stop);
        return club.Home((await club.HomesAsync(["mill-lane-4"], stop))["mill-lane-4"]);
    }

    private static async Task Copy(IHomeStore file, MemoryHomeStore other)
    {
        var stop = TestContext.Current.CancellationToken;
        Assert.True(await other.TryAppendAsync(await file.FactsSinceAsync(0, stop), stop));
        foreach (var probe in await file.ProbesAsync(stop))
        {
            List<Reading> readings = [];
            await foreach (var reading in file.ReadingsAsync(probe, new(null, null), stop))
            {
                readings.Add(reading);
            }

            await other.AppendAsync(readings, [], [], stop);
        }
    }

    private async Task Furnish()
    {
        await rig.Do("spot add shelf", "spot add sill --kind sill --light bright", "lot add tom-24 --crop tomato --seeds 60 --year 2024",
            "probe add soil --measures media --spot shelf", "probe add air --spot sill",
            "sow tomato --seeds 12 --spot shelf --lot tom-24 --name T1", "sow tomato --seeds 15 --spot sill --lot tom-24 --name T2");
        var lines = new List<string> { "at,probe,temperature,humidity" };
        var start = rig.Clock.GetUtcNow();
        for (var at = start; at < start.AddDays(14); at = at.AddHours(1))
        {
            var warm = 22 + 3 * Math.Sin(at.TimeOfDay.TotalHours / 24 * Math.Tau);
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},soil,{warm:0.0},"));
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},air,{warm - 2:0.0},55"));
        }

        rig.Clock.Advance(TimeSpan.FromDays(14));
        await rig.Do($"import {rig.Write("log.csv", string.Join('\n', lines) + "\n")}", "look T1 4", "look T2 2");
        rig.Clock.Advance(TimeSpan.FromDays(2));
        await rig.Do("look T1 9", "rename probe soil soil-2", "set-aside soil-2 --from 2027-03-05 --to 2027-03-06", "end T1");
    }
}

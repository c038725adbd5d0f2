using System.Text.Json.Nodes;
using Chamber.Club.Tests;
using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Writing;
using Chamber.Service.Tests.Storage.Seam;
using Chamber.Storage;
using Chamber.Storage.Facts;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Home;

/// <summary>What people do is written through the seam: the same acts leave the same entries in the data file, in a store in memory and
/// in a club on PostgreSQL. The home is invented.</summary>
public sealed class AnyStoreWritingTests(ClubServer server) : IDisposable
{
    private static readonly Instant Start = Instant.FromUtc(2027, 3, 1, 8, 0);
    private static readonly Author Ana = new("Ana", WriteWay.Page);
    private static readonly BatchId T1 = new("T1");

    private static readonly Action<HomeReader, Instant>[] Acts =
    [
        (home, now) => new HomeSpots(home, now).Save(new SpotId("shelf"), new(Room: 3)),
        (home, now) => new HomeSpots(home, now).Save(new SpotId("sill"), new(SpotKind.Sill, LightLevel.Bright)),
        (home, now) => new HomeSpots(home, now).Save(new ProbeId("soil"), new(Measurand.Media, Spot: "shelf")),
        (home, now) => new HandReadings(home, now).Write(new("sill", "18.5C")),
        (home, now) => new HomeLots(home, now).Save(new("tom-24"), new("tomato", Seeds: 60, Year: 2024)),
        (home, now) => new HomeBatches(home, now).Sow(new("tomato", 12, "shelf", Lot: new("tom-24"), Name: T1)),
        (home, now) => new HomeBatches(home, now).Look("T1", new(4, "one crooked")),
        (home, now) => new HomeBatches(home, now).Look("T1", new(40)),
        (home, now) => new HomeHistory(home, now).Undo(),
        (home, now) => new HomeBatches(home, now).Look("T1", new(6)),
        (home, now) => new HomeHistory(home, now).Correct(LastOf(home), new Dictionary<string, JsonNode?> { ["up"] = 7 }, null),
        (home, now) => new HomeHistory(home, now).Rename(FactSubject.Of(T1), "M1"),
        (home, now) => new HomeBatches(home, now).Lose("M1", new(1, LossCause.DampingOff)),
        (home, now) => new HomeBatches(home, now).Move("M1", new("sill")),
        (home, now) => new HomeUpkeep(home, now).Water(FactSubject.Of(new SpotId("sill")), new()),
        (home, now) => new HomeUpkeep(home, now).Limit(FactSubject.Of(new SpotId("sill")), new("31C", null)),
        (home, now) => new HomeMaintenance(home, now).Begin("sill", Duration.FromHours(5)),
        (home, now) => new HomeMaintenance(home, now).End("sill"),
        (home, now) => new HomeHistory(home, now).SetAside(new("soil"), "2027-03-01", "2027-03-02", "in the sun"),
        (home, now) => new HomeHistory(home, now).RemoveAll(FactSubject.Of(new SpotId("shelf"))),
        (home, now) => new HomeNotebook(home, now).Write(
            [new(1, "B1", "2026-03-01", "basil", "20", Counted: "2026-03-09", Up: "11")], false),
        (home, now) => new HomeBatches(home, now).End("M1", new()),
    ];

    private readonly TempFolder folder = new();

    [Fact]
    public async Task What_people_do_leaves_the_same_entries_in_any_store()
    {
        using var file = ChamberStore.Open(folder.File("chamber.db"));
        await using var club = await server.Database();
        var inClub = club.Home(await club.AddHomeAsync("mill-lane-4", TestContext.Current.CancellationToken));

        var onFile = await Done(file.Home, file.Records);

        Assert.Equal(onFile, await Done(new MemoryHomeStore(), new MemoryHomeRecords([])));
        Assert.Equal(onFile, await Done(inClub, new MemoryHomeRecords([])));
        Assert.Empty(file.Facts.TableDifferences());
        Assert.Equal(["40 up", "shelf"], Refused(onFile));
    }

    [Fact]
    public async Task No_thread_waits_for_what_is_written_in_a_store_that_answers_late()
    {
        using var file = ChamberStore.Open(folder.File("chamber.db"));
        using var other = ChamberStore.Open(folder.File("late.db"));
        var late = new LateHome(other.Home, other.Records);
        var done = await Wait.For("acts that are written late", Task.Run(async () => await late.LetGo(Done(late, late))));
        Assert.Equal(await Done(file.Home, file.Records), done);
    }

    public void Dispose() => folder.Dispose();

    // What cannot be true is refused everywhere in the same words, which stand among the entries.
    private static async Task<List<string>> Done(IHomeStore store, IHomeRecords records)
    {
        List<string> said = [];
        foreach (var (i, act) in Acts.Index())
        {
            var now = Start + Duration.FromHours(i);
            try
            {
                var home = new HomeReader(store, records, CropCatalog.Shipped, DateTimeZone.Utc) { Now = now }.As(Ana);
                await HomeDraft.WriteAsync(store, records, draft =>
                {
                    act(home.On(draft, draft), now);
                    return true;
                });
            }
            catch (RefusedException refused)
            {
                said.Add(refused.Message);
            }
        }

        return [.. said, .. (await store.FactsSinceAsync(0, TestContext.Current.CancellationToken)).Select(FactLine.Write)];
    }

    private static IEnumerable<string> Refused(List<string> said) => said.Where(line => !line.StartsWith('{'))
        .Select(line => line.Contains("(40)", StringComparison.Ordinal) ? "40 up"
            : line.Contains("shelf", StringComparison.Ordinal) ? "shelf" : line);

    private static long LastOf(HomeReader home) => AtHand.Of(home.Store.FactsSinceAsync(0))[^1].Number;
}

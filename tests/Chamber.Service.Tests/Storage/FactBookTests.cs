using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Spots;
using Chamber.Storage.Facts;
using Chamber.Storage.Files;
using Chamber.Testing;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>What is written down stays, and the tables are what it comes to.</summary>
public sealed class FactBookTests : IDisposable
{
    private static readonly Instant Now = SomeHome.Start;
    private static readonly Author Ana = new("Ana", WriteWay.CommandLine);
    private static readonly BatchId T1 = new("T1");

    private readonly DataFile file = new();

    public static TheoryData<string> Kinds => [.. FactKinds.All.Keys];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void The_tables_are_what_folding_all_facts_comes_to(int seed)
    {
        var (random, home) = (new Random(seed), new SomeHome(new(seed)));
        using var store = file.Open(new() { Readings = Durability.ProcessEnd });
        var written = 0;
        for (var tries = 0; tries < 250; tries++)
        {
            written += Try(() => store.Home.Append(Ana, Now, home.Next())) ? 1 : 0;
            if (random.Next(9) == 0 && written > 0)
            {
                var entry = random.NextInt64(1, store.Facts.Last + 1);
                Try(() => store.Ledger.By(Ana, Now).Amend(log => [Amendment(random, home, log, entry)]));
            }
        }

        var log = store.Facts.Log();
        Assert.Contains(log.Entries, entry => entry.Fact is Withdrawn);
        Assert.Contains(log.Entries, entry => entry.Fact is Corrected);
        Assert.Empty(log.LeftOut);
        Assert.Equal(Bare(log.Home), Bare(store.Facts.Home()));
        using var again = file.Open();
        Assert.Equal(Bare(log.Home), Bare(again.Facts.Home()));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Each_kind_of_fact_can_be_written_and_read_back(string kind)
    {
        var type = FactKinds.All[kind];
        if (type != typeof(Corrected))
        {
            Assert.NotNull(FactJson.Options.GetTypeInfo(type));
        }

        Assert.Throws<FormatException>(() => FactJson.Read(kind, """{"wrong":1}"""));
    }

    [Fact]
    public void A_fact_says_who_wrote_it_when_and_by_which_way()
    {
        using var store = file.Open();
        var shelf = new SpotSetUp(new("shelf"), SpotKind.Shelf, LightLevel.Dim, 2);
        store.Home.Append(Ana, Now + Duration.FromHours(1), shelf.At(Now));
        store.Ledger.By(new("phone", WriteWay.Api), Now).SetUp.Save(new Spot(new("sill"), SpotKind.Sill, LightLevel.Bright, 1));

        var entries = store.Facts.Since(0);
        Assert.Equal(new FactEntry(1, 1, shelf, Now, Now + Duration.FromHours(1), Ana), entries[0]);
        Assert.Equal((2L, new Author("phone", WriteWay.Api)), (entries[1].Number, entries[1].By));
    }

    [Fact]
    public void What_is_written_down_in_one_act_is_written_whole_or_not()
    {
        using var store = file.Open();
        var refused = Assert.ThrowsAny<RefusedException>(() => store.Home.Append(
            Ana, Now, new SpotSetUp(new("shelf")).At(Now), new BatchMoved(T1, new("shelf")).At(Now)));
        Assert.Equal("There is no batch \"T1\".", refused.Message);
        Assert.Equal((0L, 0), (store.Facts.Last, store.Ledger.SetUp.Spots().Count));
    }

    [Fact]
    public void Two_writers_are_judged_one_after_the_other()
    {
        using var service = file.Open();
        using var terminal = file.Open();
        service.Home.Append(Ana, Now, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now));
        terminal.Home.Append(Ana, Now, new BatchLooked(T1, 5).At(Now + Duration.FromDays(3)));
        var refused = Assert.ThrowsAny<RefusedException>(
            () => service.Home.Append(Ana, Now, new BatchLooked(T1, 4).At(Now + Duration.FromDays(4))));
        Assert.StartsWith("T1: 4 up after 5 were up", refused.Message, StringComparison.Ordinal);
        Assert.Equal(3, service.Facts.Last);
    }

    [Fact]
    public void A_second_tap_is_refused_by_the_fold_whoever_writes()
    {
        using var store = file.Open();
        store.Home.Append(Ana, Now, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now), new BatchLooked(T1, 9).At(Now));
        var uncovered = new StageDone(T1, StageKind.Uncovered);
        store.Home.Append(Ana, Now, uncovered.At(Now));
        var refused = Assert.ThrowsAny<RefusedException>(
            () => store.Home.Append(Ana, Now, uncovered.At(Now + Duration.FromHours(1))));
        Assert.Equal("batch T1: that it was uncovered is recorded already.", refused.Message);
    }

    [Fact]
    public void What_is_in_use_is_not_taken_away_and_what_only_mentions_it_stays()
    {
        using var store = file.Open();
        store.Home.Append(Ana, Now, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now));
        var log = store.Facts.Log();
        Assert.Equal([new Withdrawn(1)], log.RemovalOf(FactSubject.Of(new SpotId("shelf"))));
        Assert.ThrowsAny<RefusedException>(() => store.Ledger.SetUp.Remove(new SpotId("shelf")));
        store.Ledger.Batches.Remove(T1);
        store.Ledger.SetUp.Remove(new SpotId("shelf"));
        Assert.Empty(store.Ledger.SetUp.Spots());
    }

    [Fact]
    public void What_later_facts_rest_on_is_not_taken_back_alone()
    {
        using var store = file.Open();
        store.Home.Append(Ana, Now, new SpotSetUp(new("shelf")).At(Now));
        store.Home.Append(Ana, Now, Sown(12).At(Now));
        store.Home.Append(Ana, Now, new BatchLooked(T1, 9).At(Now + Duration.FromDays(5)));

        var refused = Assert.ThrowsAny<RefusedException>(() => store.Home.Append(Ana, Now, new Withdrawn(1).At(Now)));
        Assert.Equal("Entry 2 rests on that (12 seeds of tomato sown as T1, covered mix, on shelf): There is no spot \"shelf\"; set it up "
            + "first.", refused.Message);
        refused = Assert.ThrowsAny<RefusedException>(() => store.Home.Append(Ana, Now, new Corrected(2, Sown(8)).At(Now)));
        Assert.StartsWith("Entry 3 rests on that (T1 looked at, 9 up): T1: more up (9) than sown (8)", refused.Message,
            StringComparison.Ordinal);

        store.Ledger.Batches.Remove(T1);
        Assert.Empty(store.Ledger.Batches.All());
        Assert.Equal(3, store.Facts.Since(0).Count(entry => entry.Fact is not Withdrawn));
    }

    [Fact]
    public void Readings_that_are_set_aside_are_kept_and_passed_over()
    {
        using var store = file.Open();
        store.Journal.Append(DataFile.Minutes(0, 60), []);
        var probe = new Core.Climate.ProbeId("shelf");
        DatedFact Aside(int from, int to) => new ReadingsSetAside(probe, DataFile.At(to).MeasuredAt,
            "spilt").At(DataFile.At(from).MeasuredAt);
        store.Home.Append(Ana, Now, new ProbeSetUp(probe).At(Now), Aside(10, 20), Aside(15, 25), Aside(50, 90));

        Assert.Equal(35, store.Journal.Read(probe, new(null, null)).Count());
        Assert.Equal(35, store.Journal.ReadTemperatures(probe, new(null, null)).Count());
        Assert.Equal(60, store.Journal.ReadAll(probe, new(null, null)).Count());

        store.Home.Append(Ana, Now, new Withdrawn(4).At(Now), new Withdrawn(3).At(Now));
        Assert.Equal(50, store.Journal.Read(probe, new(null, null)).Count());
    }

    [Fact]
    public void A_renamed_probe_keeps_its_readings_and_takes_back_its_name()
    {
        using var store = file.Open();
        store.Journal.Append(DataFile.Minutes(0, 10), []);
        store.Home.Append(Ana, Now, new ProbeSetUp(new("shelf")).At(Now), new SpotSetUp(new("mat")).At(Now),
            new ProbePlaced(new("shelf"), new("mat")).At(Now),
            new ProbeCalibrated(new("shelf"), Core.Climate.TemperatureDifference.FromKelvins(0.4)).At(Now),
            new ReadingsSetAside(new("shelf"), Now - Duration.FromHours(1)).At(Now - Duration.FromHours(2)));
        store.Home.Append(Ana, Now, new ProbeRenamed(new("shelf"), new("warm-shelf")).At(Now));
        Assert.Equal(10, store.Journal.Read(new("warm-shelf"), new(null, null)).Count());

        // What still arrives under the former name is its own.
        store.Journal.Append(DataFile.Minutes(10, 5), []);
        using (var again = file.Open())
        {
            again.Journal.Append(DataFile.Minutes(15, 5), []);
            Assert.Equal(["warm-shelf"], again.Journal.Probes().Select(id => id.Text));
            Assert.Equal(20, again.Journal.Read(new("warm-shelf"), new(null, null)).Count());
        }

        store.Home.Append(Ana, Now, new Withdrawn(store.Facts.Last).At(Now));
        Assert.Empty(store.Facts.TableDifferences());
        Assert.Equal("shelf", Assert.Single(store.Ledger.SetUp.Stations()).Probe.Text);
        Assert.Equal(20, store.Journal.Read(new("shelf"), new(null, null)).Count());
        Assert.Empty(store.Journal.Read(new("warm-shelf"), new(null, null)));
    }

    [Fact]
    public void Tables_that_somebody_edited_are_found_and_written_again_from_facts()
    {
        using var store = file.Open();
        store.Home.Append(Ana, Now, new SpotSetUp(new("shelf")).At(Now), new SpotSetUp(new("sill")).At(Now), Sown(12).At(Now));
        store.Home.Append(Ana, Now, new SpotRenamed(new("sill"), new("window")).At(Now));
        store.Home.Append(Ana, Now, new BatchLooked(T1, 5).At(Now + Duration.FromDays(3)));
        Assert.Empty(store.Facts.TableDifferences());
        var right = HomeText.Of(store.Facts.Home());

        using (var connection = new SqliteConnection($"Data Source={file.Path};Pooling=False"))
        {
            connection.Open();
            connection.Execute("UPDATE batch SET seeds = 14");
            connection.Execute("DELETE FROM look");
            connection.Execute("DELETE FROM spot WHERE id = 'window'");
            connection.Execute("INSERT INTO spot (id, kind, light, room) VALUES ('attic', 'Shelf', 'Dim', 1)");
        }

        FactSubject[] wrong = [new(FactSubjectKind.Spot, "attic"), new(FactSubjectKind.Spot, "window"), FactSubject.Of(T1)];
        Assert.Equal(wrong, store.Facts.TableDifferences());
        Assert.Equal(wrong, store.Facts.RebuildTables());
        Assert.Equal(right, HomeText.Of(store.Facts.Home()));
        Assert.Empty(store.Facts.RebuildTables());
    }

    [Theory]
    [InlineData("UPDATE fact SET who = 'x'", "a fact is never changed")]
    [InlineData("DELETE FROM fact", "a fact is never taken away")]
    public void The_file_itself_refuses_to_change_what_was_written(string sql, string why)
    {
        using (var store = file.Open())
        {
            store.Home.Append(Ana, Now, new SpotSetUp(new("shelf")).At(Now));
        }

        using var connection = new SqliteConnection($"Data Source={file.Path};Pooling=False");
        connection.Open();
        Assert.Contains(why, Assert.Throws<SqliteException>(() => connection.Execute(sql)).Message, StringComparison.Ordinal);
    }

    public void Dispose() => file.Dispose();

    private static BatchSown Sown(int seeds) => new(T1, new("tomato"), SowingMethod.CoveredMix, seeds, Spot: new("shelf"));

    // What the tables do not keep: when people did something about alerts that there are not, and former names.
    private static string Bare(HomeState home) =>
        string.Join('\n', HomeText.Of(home).Split('\n').Where(line => !line.StartsWith("AlertMark", StringComparison.Ordinal)
            && !line.StartsWith('(')
            || line.StartsWith("(tomato", StringComparison.Ordinal) || line.StartsWith("(basil", StringComparison.Ordinal)));

    private static DatedFact Amendment(Random random, SomeHome home, FactLog log, long number)
    {
        var entry = log.RequireStanding(number);
        return random.Next(2) == 0 || entry.Fact is Withdrawn or Corrected
            ? new Withdrawn(number).At(Now)
            : log.CorrectionOf(number, home.Slip(log.RightOf(entry)));
    }

    private static bool Try(Action write)
    {
        try
        {
            write();
            return true;
        }
        catch (RefusedException)
        {
            return false;
        }
    }
}

using Chamber.Club.Notices;
using Chamber.Club.Sharing;
using Chamber.Club.Store;
using Chamber.Core.Alerts;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Spots;
using Chamber.Service.Notify;
using Chamber.Service.Tests.Storage;
using Npgsql;

namespace Chamber.Club.Tests.Store;

/// <summary>Homes are kept apart by the database itself: these tests say what they like to it, in the role that a home's questions
/// have.</summary>
public sealed class SeparationTests(ClubServer server) : IAsyncLifetime
{
    private static readonly Author Ana = new("Ana", WriteWay.Page);
    private string address = "";
    private int mine;
    private int theirs;
    private NpgsqlDataSource? source;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public static TheoryData<string> Tables => new("fact", "probe", "probe_name", "reading", "rolled", "late", "last_known", "refusal",
        "part", "alert", "address", "notice", "experience", "setting", "digest", "checkpoint");

    public async ValueTask InitializeAsync()
    {
        address = await server.Address();
        source = NpgsqlDataSource.Create(address);
        await using var database = ClubDatabase.Open(address);
        (mine, theirs) = (await database.AddHomeAsync("mill-lane-4", Stop), await database.AddHomeAsync("next-door", Stop));
        foreach (var home in (int[])[mine, theirs])
        {
            var store = database.Home(home);
            var shelf = new SpotSetUp(new("shelf")).At(DataFile.Start);
            var probe = new Core.Facts.Probes.ProbeSetUp(new("old")).At(DataFile.Start);
            var renamed = new Core.Facts.Probes.ProbeRenamed(new("old"), new("new")).At(DataFile.Start);
            await store.WriteAsync(Ana, DataFile.Start, _ => [shelf, probe, renamed], Stop);
            await store.AppendAsync([DataFile.At(5)], [], [DataFile.At(4)], Stop);
            await store.AppendAsync([DataFile.At(2), .. DataFile.Minutes(10, 60, "new")], [Refused()], [], Stop);
            await database.AsAsync(home, session => PartRows.KeepAsync(session, home, "crops.json", [1]), Stop);
            var alert = new AlertEntry(0, AlertKind.TooHot, new(SubjectKind.Spot, "shelf"), Severity.Warning, DataFile.Start,
                DataFile.Start, "{}");
            await database.AsAsync(home, session => AlertRows.SaveAsync(session, home, alert, 3), Stop);
            await database.AsAsync(home, session => NoticeRows.AddAsync(session, home, "ana@example.org"), Stop);
            var notice = new Notice("alert-1-opened", DataFile.Start, "alert.opened", "shelf", NoticeUrgency.Soon, "Too hot", "Move it.");
            await database.AsAsync(home, session => NoticeRows.PutAsync(session, home, notice, DataFile.Start), Stop);
            await new ClubExperience(database).AgreeAsync(home, Stop);
            await database.AsAsync(home, session => SettingRows.PutAsync(session, home, """{ "units": "F" }"""), Stop);
            await database.AsAsync(home, session => SettingRows.BeginDigestAsync(session, home, new(2026, 2, 9)), Stop);
            await database.AsAsync(home, session => CheckpointRows.KeepAsync(session, home, [1], new(1, DataFile.Start, [2])), Stop);
            await database.RollUpAsync(home, DataFile.At(1000).MeasuredAt, cancel: Stop);
        }
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public async Task A_home_s_role_sees_its_own_rows_alone(string table)
    {
        Assert.Equal([mine], await Homes(mine, table));
        Assert.Equal([theirs], await Homes(theirs, table));
        Assert.Empty(await Homes(null, table));
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public async Task A_row_cannot_be_given_to_another_home_nor_taken_from_it(string table)
    {
        foreach (var change in (string[])[$"UPDATE {table} SET home = {theirs}", $"DELETE FROM {table} WHERE home = {theirs}"])
        {
            // Refused, or there is nothing to do it to.
            await As(mine, async session =>
            {
                try
                {
                    Assert.Equal(0, await session.ExecuteAsync(change));
                }
                catch (PostgresException refused)
                {
                    Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
                }
            });
        }

        Assert.Equal([theirs], await Homes(theirs, table));
    }

    [Fact]
    public async Task A_reading_or_a_fact_cannot_be_written_for_another_home()
    {
        string[] inserts =
        [
            $"INSERT INTO reading (home, probe, at, received, clock) VALUES ({theirs}, 1, '2026-02-09', now(), 0)",
            $"INSERT INTO fact SELECT {theirs}, 99, 99, at, written, who, way, kind, version, body FROM fact LIMIT 1",
            $"INSERT INTO probe (home, key, first_name) VALUES ({theirs}, 99, 'x')",
            "INSERT INTO home (name) VALUES ('another')",
            "UPDATE fact SET who = 'Ben'", "DELETE FROM fact", "DELETE FROM reading", "TRUNCATE reading",
            "SELECT * FROM reading_2026_02", "SELECT set_config('role', 'chamber_intake', true); CREATE TABLE x (y int)",
        ];
        foreach (var insert in inserts)
        {
            await As(mine, async session =>
            {
                string[] parts = insert.Split(';');
                foreach (var before in parts[..^1])
                {
                    await session.ExecuteAsync(before);
                }

                var refused = await Assert.ThrowsAsync<PostgresException>(() => session.ExecuteAsync(parts[^1]));
                Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
            });
        }
    }

    [Fact]
    public async Task The_list_of_homes_shows_a_home_its_own_name_alone()
    {
        await As(mine, async session =>
            Assert.Equal("mill-lane-4", await session.OneAsync<string>("SELECT string_agg(name, ',') FROM home")));
    }

    [Fact]
    public async Task The_intake_reads_no_fact()
    {
        await As(null, async session =>
        {
            var refused = await Assert.ThrowsAsync<PostgresException>(() => session.OneAsync<long>("SELECT count(*) FROM fact"));
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
        }, HomeSession.IntakeRole);
    }

    [Fact]
    public async Task Every_table_with_a_home_is_kept_apart_also_from_its_owner()
    {
        await using var command = source!.CreateCommand(
            """
            SELECT coalesce(string_agg(c.relname, ', '), '') FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid
            WHERE a.attname = 'home' AND c.relkind IN ('r', 'p') AND NOT c.relispartition AND NOT (c.relrowsecurity AND c.relforcerowsecurity)
            """);
        Assert.Equal("", await command.ExecuteScalarAsync(Stop));
        await using var owner = source.CreateCommand("SELECT count(*) FROM reading");
        Assert.Equal(0L, await owner.ExecuteScalarAsync(Stop));
    }

    public async ValueTask DisposeAsync() => await source!.DisposeAsync();

    private static Core.Climate.Refusal Refused() => new(
        DataFile.Start, "broker", new("shelf"), null, Core.Climate.RefusalReason.UnknownProbe, "{}", "Set the probe up.");

    private async Task<List<int>> Homes(int? home, string table)
    {
        List<int> homes = [];
        await As(home, async session =>
            homes = await session.RowsAsync($"SELECT DISTINCT home FROM {table}", row => row.GetInt32(0)));
        return homes;
    }

    private async Task As(int? home, Func<HomeSession, Task> act, string role = HomeSession.HomeRole)
    {
        await using var session = await HomeSession.BeginAsync(source!, role, home, Stop);
        await act(session);
    }
}

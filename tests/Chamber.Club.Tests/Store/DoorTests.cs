using Chamber.Club.People;
using Chamber.Club.Store;
using Npgsql;

namespace Chamber.Club.Tests.Store;

/// <summary>People and homes are kept apart by the database itself: these tests say what they like to it, in the roles in which the pages
/// ask.</summary>
public sealed class DoorTests(ClubServer server) : IAsyncLifetime
{
    private NpgsqlDataSource source = null!;
    private ClubDatabase club = null!;
    private int mine;
    private int theirs;
    private SignedIn ana = null!;
    private SignedIn ben = null!;
    private string open = "";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        var address = await server.Address();
        source = NpgsqlDataSource.Create(address);
        club = ClubDatabase.Open(address);
        (mine, theirs) = (await club.AddHomeAsync("mill-lane-4", Stop), await club.AddHomeAsync("weir-house", Stop));
        var invitations = new Invitations(club, TimeProvider.System);
        ana = await invitations.SignUpAsync(await invitations.InviteAsync(mine, Role.Owner, "Ana", Stop), "Ana", "long enough", Stop);
        ben = await invitations.SignUpAsync(await invitations.InviteAsync(theirs, Role.Owner, "Ben", Stop), "Ben", "long enough", Stop);
        open = Secret.Hash(await invitations.InviteAsync(mine, Role.Guest, "a guest", Stop));
        await invitations.InviteAsync(theirs, Role.Guest, "a guest", Stop);
        var signIns = new SignIns(club, TimeProvider.System);
        await signIns.BeginAsync(ana, Stop);
        await signIns.BeginAsync(ben, Stop);
        await new Sensors(club).AddAsync(mine, "mill-lane-4", "shelf", false, Stop);
        await new Sensors(club).AddAsync(theirs, "weir-house", "shelf", false, Stop);
    }

    [Fact]
    public async Task Who_names_nothing_finds_nothing()
    {
        foreach (var table in (string[])["person", "keeper", "membership", "invitation", "sign_in", "sensor", "home"])
        {
            Assert.Equal(0L, await At(new(), $"SELECT count(*) FROM {table}"));
        }
    }

    [Fact]
    public async Task Who_names_a_home_finds_what_belongs_to_it_alone()
    {
        foreach (var table in (string[])["membership", "invitation", "sensor"])
        {
            Assert.Equal(1L, await At(new(mine), $"SELECT count(DISTINCT home) FROM {table}"));
            Assert.Equal(mine, await At(new(mine), $"SELECT max(home) FROM {table}"));
        }

        Assert.Equal("Ana", await At(new(mine), "SELECT string_agg(name, ',') FROM person"));
    }

    [Fact]
    public async Task Who_names_a_person_finds_their_homes_and_not_their_neighbours()
    {
        Assert.Equal("mill-lane-4", await At(new(Person: ana.Key), "SELECT string_agg(name, ',') FROM home"));
        Assert.Equal("Ana", await At(new(Person: ana.Key), "SELECT string_agg(name, ',') FROM person"));
        Assert.Equal(ana.Key, await At(new(Person: ana.Key), "SELECT max(person) FROM sign_in"));
        Assert.Equal(1L, await At(new(Person: ana.Key), "SELECT count(*) FROM sign_in"));
    }

    [Fact]
    public async Task Nobody_comes_in_but_by_a_link_and_as_what_it_says()
    {
        var asAna = new AtDoor(Person: ana.Key);
        foreach (var (asked, insert) in new[]
        {
            (asAna, $"INSERT INTO membership VALUES ({theirs}, {ana.Key}, 'guest')"),
            (asAna with { Home = theirs }, $"INSERT INTO membership VALUES ({theirs}, {ana.Key}, 'guest')"),
            (asAna with { Secret = open }, $"INSERT INTO membership VALUES ({theirs}, {ana.Key}, 'guest')"),
            (new AtDoor(Person: ben.Key, Secret: open), $"INSERT INTO membership VALUES ({mine}, {ben.Key}, 'owner')"),
            (asAna with { Secret = open }, $"INSERT INTO membership VALUES ({mine}, {ben.Key}, 'guest')"),
            (asAna with { Secret = open }, $"INSERT INTO keeper VALUES ({ana.Key})"),
            (new AtDoor(Name: "Eve"), "INSERT INTO person (name, password) VALUES ('Eve', 'x')"),
            (asAna, $"INSERT INTO sign_in VALUES ('x', {ben.Key}, now())"),
            (new AtDoor(mine), $"INSERT INTO invitation (secret, home, role, whom, expires) VALUES ('x', {theirs}, 'owner', 'Eve', now())"),
            (new AtDoor(mine), "INSERT INTO invitation (secret, role, whom, expires) VALUES ('x', 'keeper', 'Eve', now())"),
            (new AtDoor(mine), $"INSERT INTO sensor VALUES ({theirs}, 'x', 'x', true)"),
        })
        {
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, await Refused(asked, insert));
        }

        // That the last of these conditions is what refuses: with the right link it goes.
        Assert.Equal(1, await Change(new(Person: ben.Key, Secret: open), $"INSERT INTO membership VALUES ({mine}, {ben.Key}, 'guest')"));
    }

    [Fact]
    public async Task Nothing_of_another_home_can_be_changed_or_taken_away()
    {
        foreach (var change in (string[])[$"DELETE FROM membership WHERE home = {theirs}", $"DELETE FROM invitation WHERE home = {theirs}",
            $"DELETE FROM sensor WHERE home = {theirs}", "UPDATE sensor SET bridge = true WHERE bridge = false AND name <> 'shelf'",
            $"UPDATE person SET password = 'x' WHERE key = {ben.Key}", $"UPDATE invitation SET used_by = {ana.Key} WHERE home = {theirs}",
            $"UPDATE membership SET role = 'owner' WHERE home = {theirs}", $"DELETE FROM sign_in WHERE person = {ben.Key}"])
        {
            Assert.Equal(0, await Change(new(mine, ana.Key), change));
        }
    }

    [Theory]
    [InlineData("fact")]
    [InlineData("reading")]
    [InlineData("alert")]
    [InlineData("part")]
    [InlineData("refusal")]
    public async Task The_pages_front_reads_nothing_of_what_is_in_a_home(string table) => Assert.Equal(
        PostgresErrorCodes.InsufficientPrivilege, await Refused(new(mine, ana.Key), $"SELECT count(*) FROM {table}"));

    [Fact]
    public async Task A_keeper_reads_no_content_and_lets_nobody_into_a_home_that_has_people()
    {
        foreach (var ask in (string[])["SELECT temperature FROM reading", "SELECT first_name FROM probe", "SELECT count(*) FROM fact",
            "SELECT evidence FROM alert", "SELECT raw FROM refusal", "SELECT person FROM membership", "SELECT name FROM person",
            $"INSERT INTO membership VALUES ({mine}, {ana.Key}, 'owner')", "DELETE FROM membership",
            Invitation("owner", mine), Invitation("guest", mine), Invitation("member", theirs)])
        {
            await using var session = await HomeSession.BeginAsync(source, HomeSession.KeeperRole, null, Stop);
            var refused = await Assert.ThrowsAsync<PostgresException>(() => session.ExecuteAsync(ask));
            Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
        }

        var empty = await club.AddHomeAsync("lock-cottage", Stop);
        await using var allowed = await HomeSession.BeginAsync(source, HomeSession.KeeperRole, null, Stop);
        Assert.Equal(1, await allowed.ExecuteAsync(Invitation("owner", empty)));

        static string Invitation(string role, int home) =>
            $"INSERT INTO invitation (secret, home, role, whom, expires, by_keeper) VALUES ('x', {home}, '{role}', 'Eve', now(), true)";
    }

    [Fact]
    public async Task The_roles_of_a_home_and_of_the_intake_see_nobody()
    {
        foreach (var role in (string[])[HomeSession.HomeRole, HomeSession.IntakeRole, HomeSession.RollUpRole])
        {
            foreach (var table in (string[])["person", "keeper", "membership", "invitation", "sign_in", "page_key", "sensor"])
            {
                await using var session = await HomeSession.BeginAsync(source, role, mine, Stop);
                var refused = await Assert.ThrowsAsync<PostgresException>(() => session.ExecuteAsync($"SELECT count(*) FROM {table}"));
                Assert.Equal(PostgresErrorCodes.InsufficientPrivilege, refused.SqlState);
            }
        }
    }

    public async ValueTask DisposeAsync()
    {
        await source.DisposeAsync();
        await club.DisposeAsync();
    }

    private Task<object?> At(AtDoor asked, string sql) => club.AtDoorAsync(asked, session => session.OneAsync<object>(sql), Stop);

    private Task<int> Change(AtDoor asked, string sql) => club.AtDoorAsync(asked, session => session.ExecuteAsync(sql), Stop);

    private async Task<string> Refused(AtDoor asked, string sql) =>
        ((PostgresException)(await Assert.ThrowsAsync<StoreException>(() => Change(asked, sql))).InnerException!).SqlState;
}

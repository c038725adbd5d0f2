using Chamber.Club.Store;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Spots;
using Chamber.Service.Tests.Storage;

namespace Chamber.Club.Tests.Operation;

/// <summary>A club comes back from a backup by PostgreSQL's own means, as docs/club-operation.md has it.</summary>
public sealed class BackupTests(ClubServer server)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_club_restored_from_a_dump_has_its_homes_and_goes_on()
    {
        var address = await server.Address();
        await using var club = ClubDatabase.Open(address);
        var home = await club.AddHomeAsync("mill-lane-4", Stop);
        await club.Home(home).WriteAsync(new("Ana", WriteWay.Page), DataFile.Start, _ => [new SpotSetUp(new("sill")).At(DataFile.Start)],
            Stop);
        await club.Home(home).AppendAsync(DataFile.Minutes(0, 60), [], [], Stop);

        await using var restored = ClubDatabase.Open(await server.RestoreFromDump(address));
        Assert.Equal(home, await restored.RequireAsync("mill-lane-4", Stop));
        var store = restored.Home(home);
        Assert.Equal("sill", Assert.Single((await store.HomeAsync(Stop)).Home.Spots).Id.Text);
        var again = await store.AppendAsync([.. DataFile.Minutes(0, 61)], [], [], Stop);
        Assert.Equal((1, 60), (again.Inserted, again.Duplicates));

        // Kept apart as before: another home sees nothing of it.
        var other = restored.Home(await restored.AddHomeAsync("next-door", Stop));
        Assert.Empty(await other.FactsSinceAsync(0, Stop));
    }
}

using Chamber.Club.Store;
using Chamber.Service.Tests.Storage;
using Chamber.Service.Tests.Storage.Seam;

namespace Chamber.Club.Tests.Store;

/// <summary>A home of a club, on PostgreSQL, with a neighbour who has readings of the same probes.</summary>
public sealed class ClubHomeStoreTests(ClubServer server) : HomeStoreTests, IAsyncLifetime
{
    private ClubDatabase? database;
    private IHomeStore? store;

    internal override IHomeStore Store => store!;

    public async ValueTask InitializeAsync()
    {
        database = await server.Database();
        var neighbour = database.Home(await database.AddHomeAsync("next-door"));
        await neighbour.AppendAsync([.. DataFile.Minutes(0, 20), .. DataFile.Minutes(0, 5, "sill")], [], []);
        store = database.Home(await database.AddHomeAsync("mill-lane-4"));
    }

    public async ValueTask DisposeAsync() => await database!.DisposeAsync();
}

using Chamber.Club.Store;
using Chamber.Testing;

[assembly: AssemblyFixture(typeof(Chamber.Club.Tests.ClubServer))]

namespace Chamber.Club.Tests;

/// <summary>One PostgreSQL server for all tests of the club, started by the first that needs it.</summary>
public sealed class ClubServer : IAsyncDisposable
{
    private readonly Lazy<Task<PostgreSql>> server = new(PostgreSql.Start);

    /// <summary>An empty database with the club's tables.</summary>
    internal async Task<ClubDatabase> Database() => ClubDatabase.Open(await Address());

    /// <summary>How to reach an empty database as its owner.</summary>
    public async Task<string> Address() => await (await server.Value).MakeDatabase();

    /// <summary>How to reach a database that was restored from a dump of another.</summary>
    public async Task<string> RestoreFromDump(string address) => await (await server.Value).RestoreFromDump(address);

    public async ValueTask DisposeAsync()
    {
        if (server.IsValueCreated)
        {
            await (await server.Value).DisposeAsync();
        }
    }
}

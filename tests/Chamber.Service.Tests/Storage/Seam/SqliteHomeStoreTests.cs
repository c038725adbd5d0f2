using Chamber.Storage;

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>The data file.</summary>
public sealed class SqliteHomeStoreTests : HomeStoreTests, IDisposable
{
    private readonly DataFile file = new();
    private readonly ChamberStore store;

    public SqliteHomeStoreTests() => store = file.Open();

    internal override IHomeStore Store => store.Home;

    public void Dispose()
    {
        store.Dispose();
        file.Dispose();
    }
}

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>A store without any file: what the suite asks is not of one kind of database.</summary>
public sealed class MemoryHomeStoreTests : HomeStoreTests
{
    internal override IHomeStore Store { get; } = new MemoryHomeStore();
}

using Chamber.Testing;

namespace Chamber.Shipping.Tests;

public sealed class LicenceTests
{
    [Fact]
    public async Task The_list_of_licences_names_every_package_that_is_resolved() =>
        Assert.Contains("packages", (await RunningProgram.Run("python3", [SourceTree.Path("eng", "list-licences"), "--check"])).Succeeded(), StringComparison.Ordinal);
}

using Chamber.Shipping.Tests.Rig;
using Chamber.Testing;

namespace Chamber.Shipping.Tests;

/// <summary>What changes an installed package, each on one of its own: damage, an upgrade, a removal.</summary>
public sealed class DebianPackageChangeTests(Shipped shipped) : IAsyncLifetime
{
    private readonly InstalledPackage package = new(shipped);

    public ValueTask InitializeAsync() => package.InitializeAsync();

    public ValueTask DisposeAsync() => package.DisposeAsync();

    [Fact]
    public async Task What_is_broken_is_found_and_healed_by_installing_again()
    {
        var (library, settings) = (package.File("usr/lib/chamber/libe_sqlite3.so"), package.File("var/lib/chamber/chamber.json"));
        await File.WriteAllTextAsync(settings, """{ "units": "F" }""", TestContext.Current.CancellationToken);
        Assert.Equal("", await package.Verify());
        File.Delete(library);
        await File.AppendAllTextAsync(package.Unit, "ExecStart=/bin/false\n", TestContext.Current.CancellationToken);

        var found = await package.Verify();
        Assert.Matches("missing +/usr/lib/chamber/libe_sqlite3.so", found);
        Assert.Matches("[?]{2}5[?.]+ +/lib/systemd/system/chamber.service", found);
        string[] spots = ["spots", "--data", Path.GetDirectoryName(settings)!];
        var broken = await RunningProgram.Run(package.Program, spots);
        Assert.NotEqual(0, broken.ExitCode);
        Assert.Matches("^chamber: A part of the program is missing or broken: libe_sqlite3.so in .*/usr/lib/chamber/ Install Chamber again",
            Assert.Single(broken.Errors.Trim().Split('\n')));

        await package.Install();
        Assert.Equal("", await package.Verify());
        (await RunningProgram.Run(package.Program, spots)).Succeeded();
        Assert.Equal("""{ "units": "F" }""", await File.ReadAllTextAsync(settings, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task An_upgrade_leaves_disabled_what_was_disabled()
    {
        var link = package.File("etc/systemd/system/multi-user.target.wants/chamber.service");
        Assert.NotNull(new FileInfo(link).LinkTarget);
        File.Delete(link);
        await package.Install();
        Assert.Null(new FileInfo(link).LinkTarget);
    }

    [Fact]
    public async Task Removing_the_package_leaves_the_records_and_nothing_else()
    {
        await File.WriteAllTextAsync(package.File("var/lib/chamber/chamber.db"), "years of readings",
            TestContext.Current.CancellationToken);
        await package.Purge();
        Assert.True(File.Exists(package.File("var/lib/chamber/chamber.db")));
        Assert.DoesNotContain(
            Directory.EnumerateFiles(package.Root, "*", SearchOption.AllDirectories),
            file => file.Contains("/usr/", StringComparison.Ordinal) || file.Contains("/systemd/", StringComparison.Ordinal));
    }
}

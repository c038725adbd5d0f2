using Chamber.Testing;

namespace Chamber.Shipping.Tests.Rig;

/// <summary>
/// The Debian package installed by dpkg into its own root, so that the machine of the test stays as it was. The package's
/// scripts run against that root, as dpkg's DPKG_ROOT asks of them.
/// </summary>
public sealed class InstalledPackage(Shipped shipped) : IAsyncLifetime
{
    private readonly TempFolder folder = new();

    public string Root => folder.File("root");

    public string Unit => File("lib/systemd/system/chamber.service");

    public string Program => File("usr/lib/chamber/chamber");

    public string File(string path) => Path.Combine(Root, path);

    public ValueTask InitializeAsync() => Install();

    /// <summary>Installs it, also where it is installed already.</summary>
    public async ValueTask Install()
    {
        foreach (var needed in new[] { "etc", "var/lib/dpkg/info", "var/lib/dpkg/updates", "var/lib/dpkg/triggers", "var/lib/chamber" })
        {
            Directory.CreateDirectory(File(needed));
        }

        await System.IO.File.AppendAllTextAsync(File("var/lib/dpkg/status"), string.Empty);

        // Others must be able to walk to it: the service runs as its own user.
        System.IO.File.SetUnixFileMode(folder.Path, (UnixFileMode)0b111_101_101);
        await Dpkg("--install", shipped.DebianPackage);
    }

    /// <summary>What dpkg finds changed or missing of what it installed; nothing when all is as it was.</summary>
    public async Task<string> Verify()
    {
        // It ends with an error where it finds something.
        var verdict = await RunningProgram.Run("dpkg", [$"--root={Root}", "--verify", "chamber"]);
        return verdict.Output + verdict.Errors;
    }

    public Task Purge() => Dpkg("--purge", "chamber");

    /// <summary>What the unit says of a key; the last wins, as for systemd.</summary>
    public string Says(string key) => SaysInTurn(key)[^1];

    /// <summary>All that the unit says of a key that may stand several times.</summary>
    public IReadOnlyList<string> SaysInTurn(string key) =>
        [.. System.IO.File.ReadAllLines(Unit).Where(line => line.StartsWith(key + "=", StringComparison.Ordinal))
            .Select(line => line[(key.Length + 1)..])];

    /// <summary>The number of the user that the package made.</summary>
    public (string User, string Group) Account(string name)
    {
        var fields = System.IO.File.ReadAllLines(File("etc/passwd"))
            .Single(line => line.StartsWith(name + ":", StringComparison.Ordinal)).Split(':');
        return (fields[2], fields[3]);
    }

    public ValueTask DisposeAsync()
    {
        folder.Dispose();
        return ValueTask.CompletedTask;
    }

    // What it depends on is installed on the machine and not in that root.
    private async Task Dpkg(params string[] arguments) =>
        (await RunningProgram.Run("dpkg", [$"--root={Root}", "--force-depends", "--force-not-root", "--force-script-chrootless",
            "--no-triggers", .. arguments])).Succeeded();
}

using Chamber.Testing;

[assembly: AssemblyFixture(typeof(Chamber.Shipping.Tests.Rig.Shipped))]

namespace Chamber.Shipping.Tests.Rig;

/// <summary>Everything that is shipped, made once for all tests by the scripts that make it for people: publishing takes a
/// minute.</summary>
public sealed class Shipped : IAsyncLifetime
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(15);

    /// <summary>What the runner of the tests sets for itself must not reach another build.</summary>
    public static IReadOnlyDictionary<string, string?> PlainBuild { get; } =
        new Dictionary<string, string?> { ["MSBUILDDISABLENODEREUSE"] = "1", ["MSBuildSDKsPath"] = null, ["MSBuildExtensionsPath"] = null };

    public static string SingleFile => SourceTree.Path("artifacts", "publish", "linux-x64", "SingleFile", "chamber");

    public static string Folder(string kind) => SourceTree.Path("artifacts", "publish", kind, "Folder");

    public static string Packages => SourceTree.Path("artifacts", "packages");

    /// <summary>The version that the published programs carry.</summary>
    public string Version { get; private set; } = string.Empty;

    public string DebianPackage { get; private set; } = string.Empty;

    public async ValueTask InitializeAsync()
    {
        // Set while writing tests of it: what was made before is taken as it is.
        if (Environment.GetEnvironmentVariable("CHAMBER_SHIPPED_IS_MADE") is null)
        {
            await Make("publish", "linux-x64");
            await Make("publish", "linux-arm64", "Folder");
            await Make("pack");
            await Make("debian-package", "linux-x64", "--published");
        }

        Version = (await File.ReadAllTextAsync(SourceTree.Path("artifacts", "publish", "linux-x64", "version"))).Trim();
        DebianPackage = Directory.GetFiles(Packages, $"chamber_{Version.Replace('-', '~')}_amd64.deb").Single();
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private static async Task Make(string script, params string[] arguments)
    {
        var result = await RunningProgram.Run(SourceTree.Path("eng", script), arguments, environment: PlainBuild, folder: SourceTree.Root,
            patience: Patience);
        result.Succeeded();
    }
}

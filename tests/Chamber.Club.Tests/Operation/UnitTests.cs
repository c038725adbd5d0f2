using System.Text.RegularExpressions;
using Chamber.Club.Tests.Homes;
using Chamber.Testing;

namespace Chamber.Club.Tests.Operation;

/// <summary>What systemd and the program itself say of the units that start it.</summary>
public sealed partial class UnitTests
{
    private const string Program = "/usr/lib/chamber-club/chamber-club";

    [Theory]
    [InlineData("silo")]
    [InlineData("intake")]
    public async Task A_unit_is_understood_and_names_options_that_there_are(string part)
    {
        using var folder = new TempFolder();
        var text = await File.ReadAllTextAsync(SourceTree.Path("eng", "club", $"chamber-club-{part}@.service"),
            TestContext.Current.CancellationToken);
        var unit = folder.Write($"chamber-club-{part}@1.service", text.Replace(Program, SiloProcess.Club, StringComparison.Ordinal));
        var verified = await RunningProgram.Run("systemd-analyze", ["verify", "--man=no", unit]);
        Assert.True(verified is { ExitCode: 0, Errors: "", Output: "" }, verified.Output + verified.Errors);

        var help = (await RunningProgram.Run(SiloProcess.Club, [part, "--help"])).Succeeded();
        var started = text[text.IndexOf(Program, StringComparison.Ordinal)..text.IndexOf("TimeoutStopSec", StringComparison.Ordinal)];
        Assert.All(Option().Matches(started).Select(match => match.Value),
            option => Assert.Contains(option, help, StringComparison.Ordinal));
    }

    [GeneratedRegex(@"--[a-z-]+")]
    private static partial Regex Option();
}

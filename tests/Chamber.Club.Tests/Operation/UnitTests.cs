using System.Text.RegularExpressions;
using Chamber.Club.Tests.Homes;
using Chamber.Testing;

namespace Chamber.Club.Tests.Operation;

/// <summary>What systemd and the program itself say of the units that start it.</summary>
public sealed partial class UnitTests
{
    private const string Program = "/usr/lib/chamber-club/chamber-club";

    [Theory]
    [InlineData("silo@", "silo")]
    [InlineData("intake@", "intake")]
    [InlineData("page", "page")]
    [InlineData("gather", "experience gather")]
    public async Task A_unit_is_understood_and_names_options_that_there_are(string unit, string verb)
    {
        using var folder = new TempFolder();
        var text = await Copy(folder, $"chamber-club-{unit}.service", unit.Replace("@", "@1", StringComparison.Ordinal));
        if (unit == "gather")
        {
            await Copy(folder, "chamber-club-gather.timer", "gather", "timer");
        }

        var verified = await RunningProgram.Run("systemd-analyze", ["verify", "--man=no", .. Directory.EnumerateFiles(folder.Path)]);
        Assert.True(verified is { ExitCode: 0, Errors: "", Output: "" }, verified.Output + verified.Errors);

        var help = (await RunningProgram.Run(SiloProcess.Club, [.. verb.Split(' '), "--help"])).Succeeded();
        var started = Start().Match(text).Value;
        Assert.Contains($"{Program} {verb}", started, StringComparison.Ordinal);
        Assert.All(Option().Matches(started).Select(match => match.Value),
            option => Assert.Contains(option, help, StringComparison.Ordinal));
    }

    private static async Task<string> Copy(TempFolder folder, string file, string name, string kind = "service")
    {
        var text = await File.ReadAllTextAsync(SourceTree.Path("eng", "club", file), TestContext.Current.CancellationToken);
        folder.Write($"chamber-club-{name}.{kind}", text.Replace(Program, SiloProcess.Club, StringComparison.Ordinal));
        return text;
    }

    // To the end of the line that is not continued.
    [GeneratedRegex(@"ExecStart=(.*\\\n)*.*")]
    private static partial Regex Start();

    [GeneratedRegex(@"--[a-z-]+")]
    private static partial Regex Option();
}

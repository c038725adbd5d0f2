using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>Every command line that a document shows does its work in the home that the documents speak of, and ends with exit code
/// 0.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class DocumentedLinesRunTests
{
    private const int LinesAtLeast = 120;

    /// <summary>A reference is no story: its lines, which are the first examples of each verb's help, stand by themselves, each on the home
    /// as it is.</summary>
    private const string Reference = "docs/commands.md";

    /// <summary>Lines that are not run here, and why.</summary>
    private static readonly Dictionary<string, string> NotHere = new(StringComparer.Ordinal)
    {
        ["run"] = "the service, which runs until it is stopped: RunningServiceTests",
        ["import-home home"] = "wants a home that was taken out, and an empty one: HistoryVerbTests",
        ["import-home parents --called batch:T1=M1 --same spot:sill"] = "wants the home of somebody else: HistoryVerbTests",
        ["run --data DIR"] = "the service, which runs until it is stopped: RunningServiceTests",
        ["listen"] = "wants a broker: ListeningTests",
        ["listen --for 2min --take flat/kitchen/climate"] = "as listen",
        ["listen --take TOPIC"] = "as listen",
        ["demo"] = "the service on a simulated home, until it is stopped: DemoRunTests",
        ["demo --speed 300 --seed 7"] = "as demo",
        ["run --data /var/lib/chamber"] = "as run; and that is the data of the Debian package",
        ["check --data /var/lib/chamber --json"] = "the data of the Debian package, which belongs to its own user: DebianPackageTests",
        ["spots --data /var/lib/chamber"] = "the data of the Debian package, which belongs to its own user: DebianPackageTests",
    };

    [Fact]
    public async Task Every_line_of_every_document_and_help_ends_well()
    {
        await using var home = await DocumentedHome.Make();
        var run = 0;
        List<string> failed = [];
        foreach (var (page, lines) in DocumentedLines.Pages().Where(page => page.Page != Reference))
        {
            var place = home.Fresh($"page-{run}");
            foreach (var line in lines.Where(line => !NotHere.ContainsKey(line)))
            {
                run++;
                await Run(home, page, place, line, failed);
            }
        }

        foreach (var line in Examples().Where(line => !NotHere.ContainsKey(line)))
        {
            run++;
            await Run(home, "help", home.Fresh($"line-{run}", beforeLooks: line.StartsWith("look T3", StringComparison.Ordinal)), line,
                failed);
        }

        Assert.True(failed.Count == 0, $"{failed.Count} of {run} lines failed:\n{string.Join('\n', failed)}");
        Assert.True(run >= LinesAtLeast, $"Only {run} lines were run: are the documents still where this test looks?");
    }

    [Fact]
    public void Every_line_that_is_not_run_here_is_still_documented()
    {
        var documented = DocumentedLines.Pages().SelectMany(page => page.Lines).Concat(Examples()).ToHashSet(StringComparer.Ordinal);
        Assert.All(NotHere.Keys, line => Assert.Contains(line, documented));
    }

    private static IEnumerable<string> Examples() =>
        CommandReference.Every().SelectMany(verb => verb.Examples).SelectMany(example => DocumentedLines.Of($"`{example}`"));

    private static async Task Run(DocumentedHome home, string where, string place, string line, List<string> failed)
    {
        var outcome = await home.Run(place, line);
        if (outcome.Code != 0)
        {
            failed.Add($"{where}: chamber {line}\n    exit code {outcome.Code}: {outcome.Error}{outcome.Out}");
        }
    }
}

using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>Holds the promise that programs can do everything that the page does: tests/cases/page/actions.txt names for each action of
/// the page the operation of the API. The count is the program's own.</summary>
public partial class PageActionsTests
{
    private static readonly string Web = SourceTree.Path("src", "Chamber.Service", "Web");

    [Fact]
    public void Each_action_of_the_page_has_its_line_and_no_line_is_left_over()
    {
        var found = Sources("*.razor").SelectMany(file => Actions().Matches(file.Text)
            .Select(match => $"{file.Name} | {match.Groups["action"].Value}")).ToHashSet(StringComparer.Ordinal);
        var listed = Lines().Select(line => $"{line.File} | {line.Action}").ToList();

        Assert.Empty(found.Except(listed).Order(StringComparer.Ordinal));
        Assert.Empty(listed.Except(found));
        Assert.Equal(listed.Count, listed.Distinct().Count());
        Assert.True(found.Count > 50, "The pages were not found.");
    }

    [Fact]
    public void Each_line_names_operations_of_the_API_or_says_why_none()
    {
        var operations = Sources("*.cs").SelectMany(file => Operation().Matches(file.Text).Select(match => match.Groups[1].Value))
            .ToHashSet(StringComparer.Ordinal);

        Assert.All(Lines(), line =>
        {
            if (line.Counterpart.StartsWith("- ", StringComparison.Ordinal))
            {
                Assert.True(line.Counterpart.Length > 8, $"{line}: say why.");
            }
            else
            {
                Assert.All(line.Counterpart.Split(", "), operation => Assert.Contains(operation, operations));
            }
        });
    }

    private static IEnumerable<(string Name, string Text)> Sources(string pattern) =>
        Directory.EnumerateFiles(Web, pattern, SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(path => (Path.GetFileName(path), File.ReadAllText(path)));

    private static IReadOnlyList<Line> Lines() =>
    [
        .. File.ReadAllLines(SourceTree.Path("tests", "cases", "page", "actions.txt")).Where(line => line.Length > 0 && line[0] != '#')
            .Select(line => line.Split(" | ")).Select(parts => new Line(parts[0].Trim(), parts[1].Trim(), parts[2].Trim())),
    ];

    // What a person can do: an event or a field with its handler, a form or a choice without a live page, and what the page takes
    // straight from the API.
    [GeneratedRegex("""(?<action>@on[a-z]+="[^"]*"|@bind:set="[^"]*"|data-choose|href="api/[a-z.]+)""")]
    private static partial Regex Actions();

    [GeneratedRegex("""WithName\("(\w+)"\)""")]
    private static partial Regex Operation();

    private sealed record Line(string File, string Action, string Counterpart);
}

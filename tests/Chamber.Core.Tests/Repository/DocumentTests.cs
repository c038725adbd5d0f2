using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Core.Tests.Repository;

public sealed partial class DocumentTests
{
    private static IEnumerable<string> Documents => Sources.All.Where(path => path.EndsWith(".md", StringComparison.Ordinal));

    [Fact]
    public void Every_link_leads_somewhere() => Sources.ExpectNone(MarkdownLinks.Dead(SourceTree.Root, Documents));

    [Fact]
    public void Every_file_named_in_a_document_exists()
    {
        var missing =
            from path in Documents
            from Match name in NamedFile().Matches(Sources.Text(path))
            let file = name.Groups["file"].Value.TrimEnd('/')
            where !Path.Exists(SourceTree.Path(file)) && !Path.Exists(SourceTree.Path(Path.GetDirectoryName(path)!, file))
            select $"{path}: {file}";

        Sources.ExpectNone(missing);
    }

    [Fact]
    public void Every_document_has_one_title()
    {
        Assert.All(Documents, path => Assert.Single(Fence().Replace(Sources.Text(path), "").Split('\n'),
            line => line.StartsWith("# ", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_json_file_we_ship_can_be_read()
    {
        var unreadable = Sources.All
            .Where(path => path.EndsWith(".json", StringComparison.Ordinal))
            .Where(path => path.StartsWith("config/", StringComparison.Ordinal) || path.StartsWith("dashboards/", StringComparison.Ordinal)
                || path.StartsWith("demo-data/", StringComparison.Ordinal))
            .Where(path => !IsJson(Sources.Text(path)));

        Sources.ExpectNone(unreadable);
    }

    private static bool IsJson(string text)
    {
        try
        {
            JsonDocument.Parse(text).Dispose();
            return true;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    [GeneratedRegex(@"`(?<file>(src|tests|docs|config|dashboards|demo-data|eng|\.ci)/[A-Za-z0-9_./-]*)`")]
    private static partial Regex NamedFile();

    [GeneratedRegex(@"```.*?```", RegexOptions.Singleline)]
    private static partial Regex Fence();
}

using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Core.Tests.Repository;

public sealed partial class DocumentTests
{
    private static IEnumerable<string> Documents => Sources.All.Where(path => path.EndsWith(".md", StringComparison.Ordinal));

    [Fact]
    public void Every_link_leads_somewhere()
    {
        var dead =
            from path in Documents
            from Match link in Link().Matches(Sources.Text(path))
            let target = link.Groups["target"].Value
            where !target.Contains("://", StringComparison.Ordinal) && !target.StartsWith("mailto:", StringComparison.Ordinal)
            where !Leads(path, target)
            select $"{path}: {target}";

        Sources.ExpectNone(dead);
    }

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

    private static bool Leads(string from, string target)
    {
        var parts = target.Split('#', 2);
        var path = parts[0].Length == 0 ? from
            : Path.GetRelativePath(SourceTree.Root, SourceTree.Path(Path.GetDirectoryName(from)!, parts[0])).Replace('\\', '/');
        return Path.Exists(SourceTree.Path(path))
            && (parts.Length == 1 || Headings(path).Contains(parts[1]));
    }

    private static IEnumerable<string> Headings(string path) =>
        from line in Sources.Text(path).Split('\n')
        where line.StartsWith('#')
        select NotInAnchor().Replace(line.TrimStart('#').Trim().ToLowerInvariant(), "").Replace(' ', '-');

    [GeneratedRegex(@"\]\((?<target>[^)\s]+)(\s+""[^""]*"")?\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"`(?<file>(src|tests|docs|config|dashboards|demo-data|eng|\.ci)/[A-Za-z0-9_./-]*)`")]
    private static partial Regex NamedFile();

    [GeneratedRegex(@"```.*?```", RegexOptions.Singleline)]
    private static partial Regex Fence();

    [GeneratedRegex(@"[^\p{L}\p{N} _-]")]
    private static partial Regex NotInAnchor();
}

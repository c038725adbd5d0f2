using System.Text.RegularExpressions;

namespace Chamber.Core.Tests.Repository;

public sealed partial class WordTests
{
    private static readonly string[] Unread = [".png", ".ttf", ".svg", ".db", ".gz", ".woff2", ".ico", ".pem", ".pfx"];

    [Fact]
    public void The_project_speaks_of_itself_alone()
    {
        var found =
            from path in Sources.All
            where !Unread.Contains(Path.GetExtension(path)) && Path.GetFileName(path) != $"{nameof(WordTests)}.cs"
            from line in Sources.Text(path).Split('\n').Index()
            from pattern in (Regex[])[WorkplaceWords(), RegistryHosts(), Unfinished()]
            where pattern.IsMatch(line.Item)
            select $"{path}:{line.Index + 1}: \"{pattern.Match(line.Item).Value}\" in: {line.Item.Trim()}";

        Sources.ExpectNone(found);
    }

    [Fact]
    public void File_names_are_plain()
    {
        Assert.DoesNotContain(Sources.All, path => WorkplaceWords().IsMatch(path) || path.Any(character => character is ' ' or > '~'));
    }

    // A ticket or a sitting means nothing to who reads the code later. A persistent session of MQTT is a term of its standard.
    [GeneratedRegex(@"\bissues?\b|\bthis session\b|\bsub-?agents?\b|/work/|\bbrief\.md\b|\bCEO\b|\b(claude|anthropic|openai|chatgpt|copilot)\b", RegexOptions.IgnoreCase)]
    private static partial Regex WorkplaceWords();

    // Written in pieces, so that this file keeps the rule as well.
    [GeneratedRegex(@"nuget\.o" + @"rg|npmjs\.(o" + @"rg|com)|pypi\.o" + @"rg|crates\.i" + @"o|proxy\.golang\.o" + @"rg|deb\.debian\.o" + @"rg", RegexOptions.IgnoreCase)]
    private static partial Regex RegistryHosts();

    [GeneratedRegex(@"\b(TODO|FIXME|XXX|HACK)\b")]
    private static partial Regex Unfinished();
}

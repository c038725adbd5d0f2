using System.Text.RegularExpressions;

namespace Chamber.Core.Tests.Repository;

public sealed partial class WordTests
{
    private static readonly string[] Unread = [".png", ".ttf", ".svg", ".db", ".gz", ".woff2", ".ico", ".pem", ".pfx"];

    private static readonly string[] Prose = ["", ".cs", ".razor", ".md", ".js", ".css", ".watch", ".service"];

    [Fact]
    public void Nothing_unfinished_is_marked()
    {
        var found =
            from path in Sources.All
            where !Unread.Contains(Path.GetExtension(path))
            from line in Sources.Text(path).Split('\n').Index()
            from mark in Unfinished().Matches(line.Item)
            select $"{path}:{line.Index + 1}: \"{mark.Value}\" in: {line.Item.Trim()}";

        Sources.ExpectNone(found);
    }

    // Words that nobody says; docs/glossary.md has the ones to use. Migrations and data stay as they were written.
    [Fact]
    public void Nothing_is_said_in_a_dialect()
    {
        var found =
            from path in Sources.All
            where Prose.Contains(Path.GetExtension(path))
            where path is not ("docs/glossary.md" or "tests/Chamber.Core.Tests/Repository/WordTests.cs")
            from line in Sources.Text(path).Split('\n').Index()
            from word in Dialect().Matches(line.Item)
            select $"{path}:{line.Index + 1}: \"{word.Value}\" in: {line.Item.Trim()}";

        Sources.ExpectNone(found);
    }

    // Two of one number are applied in the order of their names, and a file that has had one of them never gets it right.
    [Fact]
    public void Migrations_are_numbered_from_one_on()
    {
        var numbers = Sources.All.Where(path => path.StartsWith("src/Chamber.Storage/Migrations/", StringComparison.Ordinal))
            .Select(path => Path.GetFileName(path)[..4]);

        Assert.Equal(Enumerable.Range(1, numbers.Count()).Select(number => $"{number:0000}"), numbers);
    }

    [Fact]
    public void File_names_are_plain()
    {
        Assert.DoesNotContain(Sources.All, path => path.Any(character => character is ' ' or > '~'));
    }

    [GeneratedRegex(@"\b(unless told|mends?|mended|mending|anew|those whose|says the mend)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Dialect();

    [GeneratedRegex(@"\b(TO" + "DO|FIX" + "ME|XX" + "X|HA" + @"CK)\b")]
    private static partial Regex Unfinished();
}

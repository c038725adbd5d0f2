using System.Text.RegularExpressions;

namespace Chamber.Core.Tests.Repository;

public sealed partial class WordTests
{
    private static readonly string[] Unread = [".png", ".ttf", ".svg", ".db", ".gz", ".woff2", ".ico", ".pem", ".pfx"];

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

    [Fact]
    public void File_names_are_plain()
    {
        Assert.DoesNotContain(Sources.All, path => path.Any(character => character is ' ' or > '~'));
    }

    [GeneratedRegex(@"\b(TO" + "DO|FIX" + "ME|XX" + "X|HA" + @"CK)\b")]
    private static partial Regex Unfinished();
}

using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace Chamber.Core.Tests.Repository;

public sealed partial class WordTests
{
    private static readonly string[] Unread = [".png", ".ttf", ".svg", ".db", ".gz", ".woff2", ".ico", ".pem", ".pfx"];

    // Words that mean nothing to who reads the code later, and addresses that belong in nobody's configuration. Kept as the beginning of
    // their SHA-256, lower case, so that this file keeps the rule as well.
    private static readonly HashSet<string> Elsewhere =
    [
        "00a7dc5a0cc3", "014c777fd468", "02e3fe5aad80", "216d3696f4fb", "29447fab346b", "31d123108dba",
        "3ca29e55be4b", "3ea125d0bff3", "4a502846d070", "60965168ce76", "789e46d79514", "7d3194f79e64",
        "8743857e3ea0", "897939b397a8", "94a168d2da57", "a4aa2ac280bb", "c70eca6b0f88", "c857d09db23e",
        "d298391b0743", "e680c440a2e9", "f65219c547f9",
    ];

    private static readonly Dictionary<string, bool> Known = new(StringComparer.Ordinal);

    [Fact]
    public void The_project_speaks_of_itself_alone()
    {
        var found =
            from path in Sources.All
            where !Unread.Contains(Path.GetExtension(path))
            from line in Sources.Text(path).Split('\n').Index()
            from word in Foreign(line.Item).Concat(Unfinished().Matches(line.Item).Select(match => match.Value))
            select $"{path}:{line.Index + 1}: \"{word}\" in: {line.Item.Trim()}";

        Sources.ExpectNone(found);
    }

    [Fact]
    public void File_names_are_plain()
    {
        Assert.DoesNotContain(Sources.All, path => Foreign("/" + path).Any() || path.Any(character => character is ' ' or > '~'));
    }

    [Theory]
    [InlineData("\x69ssue")]
    [InlineData("An \x69ssue, see there.")]
    [InlineData("https://api.nuget.\x6Frg/v3")]
    [InlineData("cd /wor\x6B/main")]
    public void The_rule_knows_its_words(string line) => Assert.NotEmpty(Foreign(line));

    [Theory]
    [InlineData("Nothing of note, at work on a tissue.")]
    [InlineData("https://example.org/")]
    public void Other_words_are_free(string line) => Assert.Empty(Foreign(line));

    // A word, a word with a hyphen, a host or file name in each of its endings, or the first folder of a path.
    private static IEnumerable<string> Foreign(string line) =>
        Word().Matches(line).SelectMany(match => Endings(match.Value.ToLowerInvariant())).Concat(Folder().Matches(line).Select(match => match.Value)).Where(IsElsewhere);

    private static IEnumerable<string> Endings(string name)
    {
        yield return name;
        for (var dot = name.IndexOf('.', StringComparison.Ordinal); dot >= 0; dot = name.IndexOf('.', dot + 1))
        {
            yield return name[(dot + 1)..];
        }

        if (name.Contains('.', StringComparison.Ordinal))
        {
            yield return name[..name.IndexOf('.', StringComparison.Ordinal)];
        }
    }

    private static bool IsElsewhere(string word) => Known.TryGetValue(word, out var known)
        ? known
        : Known[word] = Elsewhere.Contains(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(word)))[..12]);

    [GeneratedRegex(@"[A-Za-z]+([-.][A-Za-z]+)*")]
    private static partial Regex Word();

    [GeneratedRegex(@"(?<![\w.])/[a-z]+/")]
    private static partial Regex Folder();

    [GeneratedRegex(@"\b(TO" + "DO|FIX" + "ME|XX" + "X|HA" + @"CK)\b")]
    private static partial Regex Unfinished();
}

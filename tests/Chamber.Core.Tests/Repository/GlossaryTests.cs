using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Chamber.Core.Tests.Repository;

public sealed partial class GlossaryTests
{
    private static readonly List<Match> Rows = [.. Row().Matches(Sources.Text("docs/glossary.md")).OfType<Match>()];

    [Fact]
    public void Every_type_of_the_glossary_exists()
    {
        var types = Sources.CSharp
            .Where(file => file.Path.StartsWith("src/", StringComparison.Ordinal))
            .SelectMany(file => file.Root.DescendantNodes().OfType<BaseTypeDeclarationSyntax>())
            .Select(type => type.Identifier.Text)
            .ToHashSet();

        Assert.NotEmpty(Rows);
        Sources.ExpectNone(Rows.Where(row => !types.Contains(row.Groups["type"].Value)).Select(row =>
            $"docs/glossary.md: \"{row.Groups["word"].Value}\" stands for {row.Groups["type"].Value}, which is no type"));
    }

    [Fact]
    public void Every_word_of_the_glossary_stands_once()
    {
        Sources.ExpectNone(Rows.GroupBy(row => row.Groups["word"].Value).Where(rows => rows.Count() > 1)
            .Select(rows => $"docs/glossary.md: \"{rows.Key}\" stands there {rows.Count()} times"));
    }

    [GeneratedRegex(@"^\| (?<word>[^|]+) \| [^|]+ \| `(?<type>\w+)` \|$", RegexOptions.Multiline)]
    private static partial Regex Row();
}

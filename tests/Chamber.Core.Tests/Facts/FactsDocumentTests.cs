using System.Text;
using System.Text.RegularExpressions;
using Chamber.Core.Facts;
using Chamber.Core.Tests.Repository;
using Chamber.Testing;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Chamber.Core.Tests.Facts;

/// <summary>docs/facts.md lists every kind of fact with what it holds, from the records and what they say of themselves.</summary>
public sealed class FactsDocumentTests
{
    private const string Page = "docs/facts.md";

    private const string Head =
        """
        # Every kind of fact

        What people set up, do, see and take back is written down as dated facts, one JSON object each, in the table `fact` of the data file and in a whole export. Written from the records under `src/Chamber.Core/Facts` by `FactsDocumentTests`.

        Beside each body stand its number, the act that it was written in, when it was true, when it was written down, by whom and by which way (`page`, `command-line`, `api`, `import`, `program`), its kind, and the version of the form, now 1. Times are UTC to the millisecond (`2027-03-01T07:00:00.000Z`), days as `2027-05-17`, lengths of time in seconds, temperature differences in K. What is not known is left out. A fact that cannot be true beside those before it counts for nothing, and `chamber check` tells it.

        """;

    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public void The_page_of_facts_lists_them_as_they_are()
    {
        var text = Text();
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(SourceTree.Path(Page), text);
        }

        Assert.True(text == Sources.Text(Page), $"{Page} says something else: write it with CHAMBER_ANSWERS=write.");
    }

    private static string Text()
    {
        var text = new StringBuilder(Head);
        var records = Records();
        foreach (var (kind, type) in FactKinds.All.OrderBy(pair => pair.Value.Namespace, StringComparer.Ordinal).ThenBy(pair => pair.Key,
            StringComparer.Ordinal))
        {
            var record = records[type.Name];
            var comment = record.GetLeadingTrivia().ToFullString();
            text.Append($"\n## {kind}\n{Said(comment, "summary")}\n");
            if (record.ParameterList is not { Parameters.Count: > 0 } parts)
            {
                continue;
            }

            text.Append("\n| part | form | what |\n| --- | --- | --- |\n");
            foreach (var part in parts.Parameters)
            {
                var name = part.Identifier.Text;
                var form = Form(part.Type!.ToString()) + (part.Default is null ? "" : ", may be left out");
                text.Append($"| `{char.ToLowerInvariant(name[0])}{name[1..]}` | {form} | {Said(comment, $"param name=\"{name}\"")} |\n");
            }
        }

        return text.ToString();
    }

    private static Dictionary<string, RecordDeclarationSyntax> Records() => Sources.CSharp
        .Where(file => file.Path.StartsWith("src/Chamber.Core/Facts/", StringComparison.Ordinal))
        .SelectMany(file => file.Root.DescendantNodes().OfType<RecordDeclarationSyntax>())
        .ToDictionary(record => record.Identifier.Text);

    private static string Said(string comment, string tag)
    {
        var found = Regex.Match(comment, $"<{Regex.Escape(tag)}>(.*?)</{tag.Split(' ')[0]}>", RegexOptions.Singleline);
        return Regex.Replace(Regex.Replace(found.Groups[1].Value, @"\s*///\s*", " "), "<[^>]+>", "").Trim();
    }

    private static string Form(string type) => type.TrimEnd('?') switch
    {
        "int" or "long" => "whole number",
        "double" or "decimal" or "TemperatureDifference" => "number",
        "bool" => "true or false",
        "string" => "text",
        "Instant" => "time",
        "LocalDate" => "day",
        "Duration" => "seconds",
        "Fact" => "a fact, with its kind",
        "FactSubject" => "kind and name",
        "LotParts" => "words",
        "PhotoMarks" => "text",
        var other when other.EndsWith("Id", StringComparison.Ordinal) => "name",
        var other => Words(other),
    };

    private static string Words(string name)
    {
        var type = typeof(Fact).Assembly.GetTypes().Single(type => type.IsEnum && type.Name == name);
        return string.Join(", ", Enum.GetNames(type).Select(word =>
            $"`{System.Text.Json.JsonNamingPolicy.KebabCaseLower.ConvertName(word)}`"));
    }
}

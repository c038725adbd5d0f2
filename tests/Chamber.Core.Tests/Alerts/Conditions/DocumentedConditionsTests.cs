using System.Globalization;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Testing;

namespace Chamber.Core.Tests.Alerts.Conditions;

/// <summary>docs/alerts.md has a short section for each condition, from what its room says of itself. CHAMBER_ANSWERS=write writes them
/// again.</summary>
public sealed class DocumentedConditionsTests
{
    private const string Begin = "## Conditions\n";
    private const string End = "\n## One alert a cause\n";

    [Fact]
    public void The_sections_of_the_conditions_are_what_their_rooms_say()
    {
        var path = SourceTree.Path("docs", "alerts.md");
        var docs = File.ReadAllText(path);
        var (from, to) = (docs.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length, docs.IndexOf(End, StringComparison.Ordinal));
        var sections = "\n" + string.Join('\n', ConditionRegistry.Standard.Select(Section));
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(path, docs[..from] + sections + docs[to..]);
        }

        Assert.Equal(sections, docs[from..to]);
    }

    private static string Section(Condition condition)
    {
        var name = condition.Kind.Spelled;
        string[] lines =
        [
            $"### {char.ToUpperInvariant(name[0])}{name[1..]}\n",
            $"- **Opens:** {condition.Docs.Opens}",
            $"- **Over:** {condition.Docs.Closes}",
            .. condition.Docs.Source.Length > 0 ? [$"- **Source:** {condition.Docs.Source}"] : Array.Empty<string>(),
            .. condition.Limits.Count > 0 ? [$"- **Limits:** {string.Join("; ", condition.Limits.Select(Line))}."] : Array.Empty<string>(),
            .. condition.Docs.More.Length > 0 ? [$"\n{condition.Docs.More}"] : Array.Empty<string>(),
        ];
        return string.Join('\n', lines) + "\n";
    }

    private static string Line(Limit limit) => limit switch
    {
        NumberLimit number => string.Create(CultureInfo.InvariantCulture, $"`{number.Name}` {number.Usual} {number.Unit} ({Short(limit)})"),
        TimeLimit { Usual.TotalHours: >= 1 } time =>
            string.Create(CultureInfo.InvariantCulture, $"`{time.Name}` {time.Usual.TotalHours} h ({Short(limit)})"),
        TimeLimit time => string.Create(CultureInfo.InvariantCulture, $"`{time.Name}` {time.Usual.TotalMinutes} min ({Short(limit)})"),
        _ => throw new InvalidOperationException($"{limit}"),
    };

    private static string Short(Limit limit) => limit.Source == Limit.CommonPractice ? "cp" : limit.Source;
}

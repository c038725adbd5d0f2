using System.Text;
using Chamber.Core;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>docs/limits.md is made from the bounds themselves, so that it cannot leave one out.</summary>
public sealed class LimitsDocumentTests
{
    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public void The_document_of_limits_names_every_bound()
    {
        var path = SourceTree.Path("docs", "limits.md");
        var page = Write();
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(path, page);
            return;
        }

        Assert.Equal(File.ReadAllText(path), page);
    }

    private static string Write()
    {
        var page = new StringBuilder("""
            # Limits

            Every number, text and length of time that comes in has a bound, the same by command line, page, API, import, settings and restored file. They are defined once in the source (`src/Chamber.Core/Bounds*.cs`); this page is made from it by the test `LimitsDocumentTests`, don't edit it by hand.

            What lies beyond a bound is refused in one sentence that names the bound and what to do (exit code 2, or status 400). What lies beyond it in the data file all the same, because the file was edited or comes from a version without the bound, counts for nothing: each command says so on standard error, `chamber check`, the log at the start and *Set up, About* on the page too, and writing it down again puts it right. A reading beyond them is reported by whatever reads it, and by `chamber check` (not with `--quick`).

            A message has nobody to answer, so what its bound refuses is counted: the last column names the counter ([metrics](operations.md)). Where it is empty, whoever asked is answered.

            | What | Bound | Why, and what to do | Counted by |
            | --- | --- | --- | --- |

            """);
        foreach (var (_, bound) in Bounds.All)
        {
            page.Append(bound switch
            {
                Bound number => Row(number.What, number.Range, number.Fix, Counter(number.Broker, number.Reason)),
                TimeBound length => Row(length.What, length.Range, length.Fix, Counter(length.Broker, length.Reason)),
                TextBound text => Row(text.What, text.Range, "shorten it", Counter(text.Broker, "")),
                var other => throw new InvalidOperationException($"{other} is no bound."),
            });
        }

        return page.ToString();
    }

    private static string Counter(string broker, string reason) =>
        broker.Length > 0 ? $"`chamber_broker_refused_total{{bound=\"{broker}\"}}`"
        : reason.Length > 0 ? $"`chamber_refusals_total{{reason=\"{reason}\"}}`"
        : "";

    private static string Row(string what, string range, string fix, string counter) => $"| {what} | {range} | {fix} | {counter} |\n";
}

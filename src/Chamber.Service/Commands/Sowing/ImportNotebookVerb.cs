using System.CommandLine;
using System.Globalization;
using Chamber.Core.Facts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;
using Chamber.Service.Import;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Takes in a notebook of past sowings and counts. Doing it again adds nothing.</summary>
internal static class ImportNotebookVerb
{
    public static Verb Create()
    {
        var file = new Argument<string>("file")
        {
            Description = "CSV with columns batch,sown,crop,seeds and, where known, method,spot,lot,counted,up,note,ended. A further count "
                + "of a batch is a line with its name, counted and up.",
        };
        var dry = new Option<bool>("--dry-run") { Description = "Show what would be imported, and write nothing." };
        return new Verb("import-notebook", "Imports a notebook of past sowings and counts. Importing it twice adds nothing.",
            "chamber import-notebook sowings.csv --dry-run", "chamber import-notebook sowings.csv") { file, dry }
            .Does(invocation =>
            {
                var path = invocation.Parse.GetValue(file)!;
                var lines = NotebookFile.Read(path);
                var writing = invocation.Home.As(invocation.Author with { Way = WriteWay.Import });
                var summary = new HomeNotebook(writing, invocation.Now).Write(lines, invocation.Parse.GetValue(dry));
                invocation.Answer(summary, screen => Show(screen, summary, path));
                return summary.Refused.Count > 0 ? ExitCode.BadInput : ExitCode.Done;
            });
    }

    private static void Show(Screen screen, NotebookSummary summary, string path)
    {
        var comesTo = $"{CountText.Of(summary.Batches, "batch", "batches")} and {CountText.Of(summary.Counts, "count")}";
        if (summary.Refused.Count > 0)
        {
            screen.Headline(summary.Refused.Count == 1 ? $"Nothing was written down: 1 line of {path} cannot be used."
                : $"Nothing was written down: {summary.Refused.Count} lines of {path} cannot be used.");
            screen.Table([">Line", "What is wrong"], summary.Refused.Select(line => new[]
            {
                line.Line.ToString(CultureInfo.InvariantCulture), line.Why,
            }));
            return;
        }

        screen.Headline(summary.Batches + summary.Counts + summary.Written == 0 ? $"Nothing in {path} is new."
            : summary.IsDryRun ? $"{path} would add {comesTo}. Nothing was written down." : $"Written down: {comesTo}.");
        if (summary.Known > 0)
        {
            screen.Say($"Already there: {CountText.Of(summary.Known, "entry", "entries")}.");
        }

        if (summary.Warned.Count > 0)
        {
            screen.Table([">Line", "What is odd"], summary.Warned.Select(line => new[]
            {
                line.Line.ToString(CultureInfo.InvariantCulture), line.What,
            }));
        }

        if (summary.Written > 0)
        {
            screen.Aside("To take all of it back: chamber undo");
        }
    }
}

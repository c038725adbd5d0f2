using System.CommandLine;
using System.Text.Json;
using Chamber.Core.Batches;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Export;
using Chamber.Service.Home.Watching;

namespace Chamber.Service.Commands.Service;

/// <summary>Takes everything out: spots, lots, batches, looks, alerts as CSV files or JSON; reminders as a calendar; readings as
/// CSV.</summary>
internal static class ExportVerb
{
    public static Verb Create()
    {
        var folder = new Option<string?>("--out") { HelpName = "DIR",
            Description = "Write one CSV file for each kind of row, all.json and chamber.ics into this folder. Default: print JSON." };
        var readings =
            new Option<bool>("--readings") { Description = "With --out: every reading too, as readings.csv, which can be large." };
        var whole = new Option<bool>("--all") { Description = "With --out: all that a home is, for import-home." };
        return new Verb("export", "Exports everything: CSV, JSON and calendar, and the readings too if you ask.",
            "chamber export --out take-out --readings", "chamber export --json", "chamber export --all --out home")
            { folder, readings, whole }
            .Does(async invocation =>
            {
                if (invocation.Parse.GetValue(whole))
                {
                    await ExportAllAsync(invocation,
                        invocation.Parse.GetValue(folder) ?? throw new BadInputException("--all: say where: --out DIR."));
                    return;
                }

                var export = HomeExport.Of(invocation.Home, invocation.Now);
                var all = invocation.Parse.GetValue(readings);
                if (invocation.Parse.GetValue(folder) is { } named)
                {
                    await ExportAsync(invocation, export, named, all);
                    return;
                }

                if (all)
                {
                    throw new BadInputException("--readings: they go into a file, so say where: --out DIR.");
                }

                JsonText.Write(invocation.CommandContext.Out, export);
            });
    }

    private static async Task ExportAsync(Invocation invocation, HomeExport export, string folder, bool readings)
    {
        var files = Write(folder, [.. CsvFiles.Of(export), ("all.json", JsonSerializer.Serialize(export, JsonText.Options)),
            ("chamber.ics", Calendar(invocation))]);
        if (readings)
        {
            files.Add(Path.Combine(folder, "readings.csv"));
            await OutputFiles.WriteAsync($"--out {folder}", () => invocation.Screen.ProgressAsync("Readings", report =>
            {
                ReadingsFile.Write(files[^1], invocation.Store.Journal, report, invocation.Cancel);
                return Task.CompletedTask;
            }));
        }

        invocation.Answer(new { Files = files }, screen =>
        {
            screen.Headline($"{files.Count} files in {folder}.");
            screen.Say(readings ? "To keep everything in one file: chamber backup FILE"
                : "Readings are not among them: add --readings. To keep everything in one file: chamber backup FILE");
        });
    }

    private static Task ExportAllAsync(Invocation invocation, string folder) => OutputFiles.WriteAsync($"--out {folder}", async () =>
    {
        IReadOnlyList<string> files = [];
        await invocation.Screen.ProgressAsync("Home", async report =>
            files = await WholeHome.WriteAsync(folder, invocation.Store, invocation.Data, report, invocation.Cancel));
        invocation.Answer(new { Files = files }, screen =>
        {
            screen.Headline($"The whole home is in {folder}: {CountText.Of((int)invocation.Store.Facts.Last, "entry", "entries")} and every reading.");
            screen.Say($"Elsewhere: chamber import-home {folder}");
        });
    });

    public static Verb CreateCalendar()
    {
        var file = new Option<string?>("--out") { HelpName = "FILE",
            Description = "Write the calendar into this file. Default: print it." };
        return new Verb("calendar", "Makes a calendar (iCalendar) of reminders and forecast days.",
            "chamber calendar --out chamber.ics", "chamber calendar > chamber.ics") { file }
            .Does(async invocation =>
            {
                var text = Calendar(invocation);
                if (invocation.Parse.GetValue(file) is { } path)
                {
                    Write(Path.GetDirectoryName(Path.GetFullPath(path))!, [(Path.GetFileName(path), text)]);
                    invocation.Answer(new { File = path }, screen => screen.Headline($"The calendar is in {path}."));
                    return;
                }

                invocation.CommandContext.Out.Write(text);
            });
    }

    private static string Calendar(Invocation invocation)
    {
        var crops = invocation.Home.Ledger.OpenBatches
            .ToDictionary(batch => batch.Id, batch => invocation.Catalog.Find(batch.Crop)?.CommonName ?? batch.Crop.Text);
        var reminders = new HomeReminders(invocation.Home, invocation.Now);
        return CalendarFile.Of(reminders.All(), reminders.Ladders(), (BatchId batch) => crops.GetValueOrDefault(batch, string.Empty),
            invocation.Now);
    }

    private static List<string> Write(string folder, IReadOnlyList<(string Name, string Text)> files)
    {
        OutputFiles.Write($"--out {folder}", () =>
        {
            Directory.CreateDirectory(folder);
            foreach (var (name, text) in files)
            {
                File.WriteAllText(Path.Combine(folder, name), text);
            }
        });
        return [.. files.Select(file => Path.Combine(folder, file.Name))];
    }
}

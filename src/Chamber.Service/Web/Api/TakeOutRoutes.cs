using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Chamber.Core.Batches;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Chamber.Service.Export;
using Chamber.Service.Home.Watching;
using Chamber.Service.Home.Writing;
using Chamber.Service.Labels;
using Chamber.Service.Backups;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Chamber.Service.Web.Api;

/// <summary>What is taken out: labels, calendar, export, backups.</summary>
internal static class TakeOutRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup(string.Empty).WithTags("Take out");
        owned = owned.MapGroup(string.Empty).WithTags("Take out");
        writes = writes.MapGroup(string.Empty).WithTags("Take out");
        reads.MapGet("/labels.pdf",
            (PageHome page, SettingsInForce notices, HttpRequest request, string[]? batch, string? size, string? paper) =>
            TypedResults.File(LabelPdf.Of(Labels(page, batch, Reached(notices, request)), Layout(size, paper)), "application/pdf",
                "labels.pdf"))
            .WithName("Labels").WithSummary("Labels for batches (all under way by default): size sheet or stick, paper a4 or letter.")
            .Produces<byte[]>(StatusCodes.Status200OK, "application/pdf").ProducesProblem(StatusCodes.Status400BadRequest)
                .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
        reads.MapGet("/calendar.ics", (PageHome page) => TypedResults.Text(Calendar(page), "text/calendar; charset=utf-8"))
            .WithName("Calendar").WithSummary("Reminders as a calendar (RFC 5545).")
                .Produces<string>(StatusCodes.Status200OK, "text/calendar");
        reads.MapGet("/export", (PageHome page) => HomeExport.Of(page.Read(), page.Now)).WithName("Export")
            .WithSummary("Everything that was written down, as JSON.");
        reads.MapGet("/export.zip", (PageHome page) => TypedResults.File(Zip(page), "application/zip", "chamber.zip"))
            .WithName("ExportFiles").WithSummary("The same as CSV files, JSON and calendar in one archive.")
                .Produces<byte[]>(StatusCodes.Status200OK, "application/zip");
        owned.MapGet("/backups", (DataDirectory data) => Backups(data)).WithName("Backups")
            .WithSummary("The backups in the data directory, newest first.");
        writes.MapPost("/backups", (PageHome page, DataDirectory data) => BackUp(page, data)).WithName("BackUp")
            .WithSummary("Writes a verified copy of everything.");
        owned.MapGet("/backups/{file}", (DataDirectory data, string file) =>
            TypedResults.PhysicalFile(Find(data, file).FullName, "application/vnd.sqlite3", file))
            .WithName("Backup").WithSummary("One backup, to keep elsewhere.")
            .Produces<byte[]>(StatusCodes.Status200OK, "application/vnd.sqlite3").ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPost("/backups/{file}/restore", (DataDirectory data, string file) => RestoreAtStart(data, file))
            .WithName("RestoreBackup")
                .WithSummary("Reads a backup through and lays it ready: it takes the place of the database when the service starts next.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        owned.MapGet("/restore", (DataDirectory data) => new RestoreAnswer(File.Exists(data.RestoreAtStart))).WithName("Restore")
            .WithSummary("Whether a backup waits to take the place of the database.");
        writes.MapDelete("/restore", (DataDirectory data) => Leave(data)).WithName("LeaveRestore")
            .WithSummary("Leaves a backup that waits; the database stays as it is.");
    }

    private static List<LabelText> Labels(PageHome page, string[]? batches, Uri? reached) =>
        HomeLabels.Of(page.Read(), batches ?? [], HomeLabels.Remembered(page.Read()) ?? reached);

    // The address by which phones reach the page: as somebody set it, or as whoever prints has reached it now. One of this machine alone
    // would lead a phone to itself.
    private static Uri? Reached(SettingsInForce notices, HttpRequest request) => notices.Notices.PageLink is { } link
        ? HomeLabels.Address(link)
        : request.Host.HasValue && new Uri($"{request.Scheme}://{request.Host}/") is { IsLoopback: false } own ? own
        : notices.HomeNetwork is { } network ? HomeAddresses.Page(network.PagePort) : null;

    private static LabelLayout Layout(string? size, string? paper) => LabelLayout.Of(
        size is null ? LabelSize.Sheet : BadInputException.In("size", () => Choice.Parse<LabelSize>(size)),
        paper is null ? Paper.A4 : BadInputException.In("paper", () => HomeLabels.PaperOf(paper)));

    private static string Calendar(PageHome page)
    {
        var home = page.Read();
        var crops = home.Ledger.OpenBatches.ToDictionary(batch => batch.Id,
            batch => home.Catalog.Find(batch.Crop)?.CommonName ?? batch.Crop.Text);
        var reminders = new HomeReminders(home, home.Now);
        return CalendarFile.Of(reminders.All(), reminders.Ladders(),
            (BatchId batch) => crops.GetValueOrDefault(batch, string.Empty), page.Now);
    }

    private static byte[] Zip(PageHome page)
    {
        var export = HomeExport.Of(page.Read(), page.Now);
        using var bytes = new MemoryStream();
        using (var archive = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, text) in CsvFiles.Of(export).Append(("all.json", JsonSerializer.Serialize(export, JsonText.Options)))
                .Append(("chamber.ics", Calendar(page))))
            {
                using var entry = archive.CreateEntry(name).Open();
                entry.Write(Encoding.UTF8.GetBytes(text));
            }
        }

        return bytes.ToArray();
    }

    private static List<BackupAnswer> Backups(DataDirectory data) =>
        [.. Safekeeping.All(data).Select(file => new BackupAnswer(file.Name, file.Length))];

    private static Created<BackupAnswer> BackUp(PageHome page, DataDirectory data)
    {
        var target = Safekeeping.Next(data, page.Now.InZone(page.Zone).LocalDateTime);
        if (File.Exists(target))
        {
            throw BadInputException.Contradicts("A backup was written in this very second: try again.");
        }

        var (report, _) = HomeBackup.Write(page.Store, data, target);
        var file = Path.GetFileName(report.Path);
        return TypedResults.Created($"/api/backups/{file}", new BackupAnswer(file, report.Bytes, report.Counts));
    }

    private static FileInfo Find(DataDirectory data, string file) =>
        Safekeeping.Find(data, file) ?? throw BadInputException.Unknown($"There is no backup \"{file}\".");

    private static NoContent Leave(DataDirectory data)
    {
        Safekeeping.Leave(data);
        return TypedResults.NoContent();
    }

    private static BackupAnswer RestoreAtStart(DataDirectory data, string file)
    {
        var report = Safekeeping.RestoreAtStart(data, Find(data, file));
        return new(file, report.Bytes, report.Counts);
    }
}

/// <summary>Whether a backup waits to take the place of the database when the service starts next.</summary>
internal sealed record RestoreAnswer(bool Waits);

/// <summary>A backup.</summary>
/// <param name="File">Its name in the folder of backups.</param>
/// <param name="Bytes">Its size.</param>
/// <param name="Counts">What it holds; null in a list, which does not read it through.</param>
internal sealed record BackupAnswer(string File, long Bytes, StoreCounts? Counts = null);

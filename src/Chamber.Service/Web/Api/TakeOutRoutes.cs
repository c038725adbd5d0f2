using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Chamber.Core.Batches;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Chamber.Service.Export;
using Chamber.Service.Home.Watching;
using Chamber.Service.Labels;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>What is taken out: labels, calendar, export.</summary>
internal static class TakeOutRoutes
{
    public static void Map(RouteGroupBuilder reads)
    {
        reads = reads.MapGroup(string.Empty).WithTags("Take out");
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
    }

    private static List<LabelText> Labels(PageHome page, string[]? batches, Uri? reached) =>
        HomeLabels.Of(page.Read(), batches ?? [], HomeLabels.Remembered(page.Read()) ?? reached);

    // The address by which phones reach the page: as somebody set it, or as whoever prints has reached it now. One of this machine alone
    // would lead a phone to itself.
    private static Uri? Reached(SettingsInForce notices, HttpRequest request) => notices.Notices.PageLink is { } link
        ? HomeLabels.Address(link)
        : request.Host.HasValue && new Uri($"{request.Scheme}://{request.Host}{request.PathBase}/") is { IsLoopback: false } own ? own
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
}

using Chamber.Service.Backups;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Chamber.Service.Web.Api;

/// <summary>Backups of the data file.</summary>
internal static class BackupRoutes
{
    public static void Map(RouteGroupBuilder owned, RouteGroupBuilder writes)
    {
        owned = owned.MapGroup(string.Empty).WithTags("Take out");
        writes = writes.MapGroup(string.Empty).WithTags("Take out");
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

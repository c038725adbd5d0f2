using System.CommandLine;
using System.Globalization;
using Chamber.Service.Backups;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;
using Chamber.Service.Photos;

namespace Chamber.Service.Commands.Service;

/// <summary>Writes a verified copy of the database while the service runs, or not.</summary>
internal static class BackupVerb
{
    public static Verb Create()
    {
        var file = new Argument<string?>("file") { Arity = ArgumentArity.ZeroOrOne,
            Description = "The file. Default: a new one in backups/ of the data directory." };
        return new Verb("backup", "Makes a verified copy of everything, whether or not the service runs.", "chamber backup",
            "chamber backup /media/stick/chamber.db") { file }
            .Does(invocation =>
            {
                var target = invocation.Parse.GetValue(file)
                    ?? Safekeeping.Next(invocation.Data, invocation.Now.InZone(invocation.Zone).LocalDateTime);
                if (File.Exists(target))
                {
                    throw new BadInputException($"{target} exists already: name a new file, or move that one away.");
                }

                var (report, photos) = HomeBackup.Write(invocation.Store, invocation.Data, target);
                invocation.Answer(report, screen =>
                {
                    screen.Headline(
                        string.Create(CultureInfo.InvariantCulture,
                            $"{report.Path}: {report.Bytes / 1e6:0.0} MB, read back and complete."));
                    screen.Say(string.Create(CultureInfo.InvariantCulture,
                        $"{CountText.Of(report.Counts.Readings, "reading")}, {CountText.Of(report.Counts.Batches, "batch", "batches")}, "
                        + $"{CountText.Of(report.Counts.Lots, "lot")}."));
                    if (photos > 0)
                    {
                        screen.Say($"{CountText.Of(photos, "new photo")} in the folder photos beside it.");
                    }

                    screen.Aside("To restore it, stop the service first: chamber restore FILE");
                });
            });
    }

    public static Verb CreateRestore()
    {
        var file = new Argument<string>("file") { Description = "A backup." };
        return new Verb("restore", "Restores a backup while the service is stopped. The present file is kept beside it.",
            "chamber restore backups/chamber-20260301-074000.db") { file }
            .Does(invocation =>
            {
                invocation.Data.Make();
                var report = Storage.ChamberStore.Restore(invocation.Parse.GetValue(file)!, invocation.Data.Database);
                PhotoBackup.Restore(invocation.Data, invocation.Parse.GetValue(file)!);
                invocation.Answer(report, screen => screen.Headline(string.Create(
                    CultureInfo.InvariantCulture,
                        $"{CountText.Of(report.Counts.Readings, "reading")}, {CountText.Of(report.Counts.Batches, "batch", "batches")} and "
                        + $"{CountText.Of(report.Counts.Lots, "lot")} are back in {report.Path}.")));
            });
    }
}

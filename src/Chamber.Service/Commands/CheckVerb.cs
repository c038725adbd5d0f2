using System.Globalization;
using Chamber.Service.Configuration;
using Chamber.Service.Doctor;
using Chamber.Service.Workers;

namespace Chamber.Service.Commands;

/// <summary>Checks settings, database, disk, broker and clock, and says the mend of what is wrong. Quicker than the doctor, who reads everything through.</summary>
internal static class CheckVerb
{
    public static Verb Create() =>
        new Verb("check", "Checks settings, database, disk, broker and clock, and says what to do about what is wrong.", "chamber check", "chamber check --json")
            .Does(async invocation =>
            {
                // Settings that cannot be read are told in their own one line.
                var settings = invocation.Settings;
                List<Finding> findings =
                [
                    Finding.Fine("settings", File.Exists(invocation.Data.Settings) ? invocation.Data.Settings : "the defaults are in force"),
                    Try("crops", () => string.Create(CultureInfo.InvariantCulture, $"{invocation.Catalog.Crops.Count} crops")),
                    Try("database", () => Database(invocation)),
                    Try("notices", () => Notices(settings, invocation)),
                    DataFindings.Disk(invocation.Data),
                    Clock(invocation),
                    await BrokerFindings.Broker(settings, invocation.Data, invocation.Cancel),
                ];
                findings.AddRange(await MirrorFindings.All(settings, invocation.Data, invocation.Cancel));
                invocation.Answer(findings, screen => FindingsScreen.Show(screen, findings));
                return FindingsScreen.Code(findings);
            });

    private static string Notices(Settings settings, Invocation invocation)
    {
        NoticeParts.Composer(settings, invocation.Data);
        using var channels = NoticeParts.Channels(settings, invocation.Data, invocation.Store, invocation.Clock);
        var dead = invocation.Store.Ledger.Notices.Dead().Count;
        var told = channels.All() is { Count: > 0 } all ? string.Join(", ", all.Select(channel => channel.Name)) : "no channel is set up";
        return dead == 0 ? told : string.Create(CultureInfo.InvariantCulture, $"{told}; {dead} were given up: chamber notices");
    }

    private static string Database(Invocation invocation)
    {
        var (readings, rolled) = invocation.Store.Journal.Size();
        return string.Create(CultureInfo.InvariantCulture, $"{invocation.Data.Database}: {CountText.Of(readings, "reading")}, {rolled:#,0} summed up");
    }

    private static Finding Clock(Invocation invocation)
    {
        var latest = invocation.Store.Journal.Latest();
        return ClockFindings.Clock(latest.Count == 0 ? null : latest.Max(reading => reading.ReceivedAt), invocation.Now, invocation.Zone, invocation.Show);
    }

    private static Finding Try(string what, Func<string> check)
    {
        try
        {
            return Finding.Fine(what, check());
        }
        catch (Exception problem) when (problem is Storage.StoreException or BadInputException)
        {
            return Finding.Wrong(what, problem.Message);
        }
    }
}

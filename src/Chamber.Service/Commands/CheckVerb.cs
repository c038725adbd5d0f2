using System.Globalization;
using System.Net.Sockets;
using Chamber.Mqtt.Connection;
using Chamber.Service.Configuration;
using Chamber.Service.Mirror;
using Chamber.Service.Workers;

namespace Chamber.Service.Commands;

/// <summary>Checks settings, database, disk, broker and clock, and says the mend of what is wrong.</summary>
internal static class CheckVerb
{
    private const long RoomMin = 200_000_000;
    private static readonly TimeSpan BrokerPatience = TimeSpan.FromSeconds(20);

    public static Verb Create() =>
        new Verb("check", "Checks settings, database, disk, broker and clock, and says what to do about what is wrong.", "chamber check", "chamber check --json")
            .Does(async invocation =>
            {
                // Settings that cannot be read are told in their own one line.
                var settings = invocation.Settings;
                var findings = new List<Finding> { new("settings", true, File.Exists(invocation.Data.Settings) ? invocation.Data.Settings : "the defaults are in force") };
                findings.Add(Try("crops", () => $"{invocation.Catalog.Crops.Count} crops"));
                findings.Add(Try("database", () => Database(invocation)));
                findings.Add(Disk(invocation.Data));
                findings.Add(Clock(invocation));
                findings.Add(await Broker(settings, invocation));
                if (settings.Mirror is { } mirror)
                {
                    findings.Add(await Mirror(mirror, invocation));
                }

                invocation.Answer(findings, screen =>
                {
                    screen.Headline(findings.TrueForAll(finding => finding.Good) ? "All is well." : "Something needs a hand.");
                    screen.Table(["", "", ""], findings.Select(finding => new[] { finding.Good ? "good" : "WRONG", finding.What, finding.Says }));
                });
                return findings.TrueForAll(finding => finding.Good) ? ExitCode.Done : ExitCode.Failed;
            });

    private static string Database(Invocation invocation)
    {
        var (readings, rolled) = invocation.Store.Journal.Size();
        return string.Create(CultureInfo.InvariantCulture, $"{invocation.Data.Database}: {readings:#,0} readings, {rolled:#,0} summed up");
    }

    private static Finding Disk(DataDirectory data)
    {
        var room = new DriveInfo(Existing(data.Path)).AvailableFreeSpace;
        return room >= RoomMin
            ? new("disk", true, string.Create(CultureInfo.InvariantCulture, $"{room / 1e9:0.0} GB free"))
            : new("disk", false, string.Create(CultureInfo.InvariantCulture, $"{room / 1e6:0} MB free where {data.Path} is: make room, or name another directory with --data."));
    }

    private static string Existing(string path) => Directory.Exists(path) ? path : Existing(Path.GetDirectoryName(path) ?? "/");

    private static Finding Clock(Invocation invocation)
    {
        var newest = invocation.Store.Journal.Latest().Select(reading => reading.ReceivedAt).DefaultIfEmpty(NodaTime.Instant.MinValue).Max();
        return newest > invocation.Now
            ? new("clock", false, $"This machine's clock stands before the arrival of the last reading ({invocation.Show(newest)}): set it, best by a time service.")
            : new("clock", true, $"{invocation.Show(invocation.Now)} in {invocation.Zone.Id}");
    }

    private static async Task<Finding> Broker(Settings settings, Invocation invocation)
    {
        if (!settings.Broker.Own)
        {
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(invocation.Cancel);
            patience.CancelAfter(BrokerPatience);
            var address = BrokerParts.Joined(settings.Broker, invocation.Data);
            var fault = await BrokerCheck.TryAsync(address, patience.Token);
            return fault is null ? new("broker", true, $"{address.Host}:{address.Port} answers") : new("broker", false, fault);
        }

        var listener = BrokerParts.Own(settings.Broker, invocation.Data).Listeners[0];
        if (listener.DemandsPassword && !File.Exists(invocation.Data.BrokerUsers))
        {
            return new("broker", false, $"It listens on {listener.Address} and has no users, so nobody is let in: chamber broker-user add NAME");
        }

        return await Answers(listener.Address, listener.Port, invocation.Cancel)
            ? new("broker", true, $"the one inside Chamber is running at {listener.Address}:{listener.Port}")
            : new("broker", true, $"the one inside Chamber would listen at {listener.Address}:{listener.Port}; the service is not running");
    }

    // A request without lines proves address, token and bucket as far as the server tells, and leaves nothing there.
    private static async Task<Finding> Mirror(MirrorSettings mirror, Invocation invocation)
    {
        using var server = new MirrorServer(mirror, invocation.Data);
        var answer = await server.SendAsync(["# Is anybody there?"], invocation.Cancel);
        return answer.Receipt == Receipt.Taken
            ? new("mirror", true, $"{mirror.Target()} takes lines")
            : new("mirror", false, answer.Reason);
    }

    private static async Task<bool> Answers(System.Net.IPAddress address, int port, CancellationToken cancel)
    {
        using var client = new TcpClient();
        try
        {
            await client.ConnectAsync(address.Equals(System.Net.IPAddress.Any) ? System.Net.IPAddress.Loopback : address, port, cancel);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private static Finding Try(string what, Func<string> check)
    {
        try
        {
            return new(what, true, check());
        }
        catch (Exception problem) when (problem is Storage.StoreException or BadInputException)
        {
            return new(what, false, problem.Message);
        }
    }

    /// <param name="What">What was looked at.</param>
    /// <param name="Good">Whether it is as it should be.</param>
    /// <param name="Says">How it is, or the mend.</param>
    private sealed record Finding(string What, bool Good, string Says);
}

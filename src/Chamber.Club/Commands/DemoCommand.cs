using System.CommandLine;
using System.Net;
using System.Net.Sockets;
using Chamber.Club.Demo;
using Chamber.Club.Homes;
using Chamber.Club.Intake;
using Chamber.Club.Pages;
using Chamber.Club.Store;
using Microsoft.Extensions.Logging;
using MQTTnet.Exceptions;
using NodaTime;

namespace Chamber.Club.Commands;

/// <summary>A whole club of invented homes on this machine, which leaves nothing behind.</summary>
internal static class DemoCommand
{
    private const int HomesUsual = 50;
    private const int HomesMax = 1000;
    private const string FarTooHot = """{"temperature": 55}""";

    public static Command Create()
    {
        var homes = new Option<int>("--homes")
        {
            HelpName = "N",
            Description = $"So many invented homes, 1 to {HomesMax}.",
            DefaultValueFactory = _ => HomesUsual,
        }.Within(1, HomesMax);
        var port = new Option<int>("--page-port")
        {
            HelpName = "PORT",
            Description = "Where the pages are, 1 to 65535; 0 for any port that is free.",
            DefaultValueFactory = _ => 0,
        }.Within(0, 65535);
        return new Command("demo", "Show a whole club of invented homes on this machine; it leaves nothing behind.") { homes, port }
            .Does(async (parsed, cancel) =>
            {
                try
                {
                    await RunAsync(parsed.GetValue(homes), parsed.GetValue(port), cancel);
                }
                catch (OperationCanceledException) when (cancel.IsCancellationRequested)
                {
                    // It was asked to end.
                }

                Console.WriteLine("The demo has ended; its folder is gone.");
            });
    }

    private static async Task RunAsync(int count, int port, CancellationToken cancel)
    {
        RefuseIfTaken(port);
        Console.WriteLine("PostgreSQL and Mosquitto are starting up.");
        await using var servers = await DemoServers.StartAsync(cancel);
        await using var club = ClubDatabase.Open(servers.Database);
        var opens = Instant.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds());
        var homes = new List<DemoHome>();
        for (var number = 1; number <= count; number++)
        {
            Fills(number - 1, count);
            var home = new DemoHome(FormattableString.Invariant($"flat-{number:00}"), number, opens);
            await home.FillAsync(club.Home(await club.AddHomeAsync(home.Name, cancel)), cancel);
            homes.Add(home);
        }

        Fills(count, count);
        await new DemoPeople(club).ComeInAsync(homes[0].Name, cancel);
        using var silo = SiloHost.Silo(club, servers.Database, new(IPAddress.Loopback, DemoServers.FreePort()), DemoServers.FreePort(),
            log: LogLevel.Warning);
        await silo.StartAsync(cancel);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        using var logs = LoggerFactory.Create(log => log.AddSimpleConsole(line => line.SingleLine = true)
            .SetMinimumLevel(LogLevel.Warning));
        await using var teller = new HomeTeller(servers.Database, TimeProvider.System, logs.CreateLogger<HomeTeller>());
        var intake = new ClubIntake(club, teller.Tell, new() { Port = servers.BrokerPort }, new(), TimeProvider.System,
            logs.CreateLogger<ClubIntake>());
        var receiving = new IntakeLoop(club, intake, slots: 1, TimeProvider.System, logs.CreateLogger<IntakeLoop>()).RunAsync(stop.Token);
        await Task.WhenAny(intake.Receives, receiving);
        await using var page = PageHost.Build(club, new(new(IPAddress.Loopback, port), null, false, $"127.0.0.1:{servers.BrokerPort}"),
            home => teller.Tell(new Dictionary<int, bool> { [home] = true }));
        await page.StartAsync(cancel);
        var speaking = new DemoProbes(homes, servers.BrokerPort, TimeProvider.System).SpeakAsync(stop.Token);
        try
        {
            Welcome(servers, homes, page.Urls.First());
            await await Task.WhenAny(receiving, speaking);
        }
        catch (MqttCommunicationException) when (cancel.IsCancellationRequested)
        {
            // Asked to end while a message was on its way.
        }
        finally
        {
            await stop.CancelAsync();
            await Task.WhenAll(receiving, speaking).ContinueWith(_ => { }, TaskScheduler.Default);
            await page.StopAsync(CancellationToken.None);
            await silo.StopAsync(CancellationToken.None);
        }
    }

    // Known at once, and not after fifty homes were made.
    private static void RefuseIfTaken(int port)
    {
        try
        {
            using var listener = new TcpListener(IPAddress.Loopback, port);
            listener.Start();
        }
        catch (SocketException)
        {
            throw new FormatException($"Port {port} is not free: choose another by --page-port, or leave it out.");
        }
    }

    // A line that is written over on a terminal, and a few lines elsewhere.
    private static void Fills(int done, int count)
    {
        const int Width = 30;
        if (!Console.IsOutputRedirected)
        {
            var full = Width * done / count;
            Console.Write($"\r[{new string('#', full)}{new string('.', Width - full)}] {done} of {count} homes");
            Console.Write(done == count ? "\n" : "");
        }
        else if (done == count || (done > 0 && done % 10 == 0))
        {
            Console.WriteLine($"{done} of {count} homes are there.");
        }
    }

    private static void Welcome(DemoServers servers, List<DemoHome> homes, string page)
    {
        var (program, first) = (Environment.ProcessPath ?? "chamber-club", homes[0].Name);
        Console.WriteLine(
            $"""

            A club of {homes.Count} invented homes, {homes[0].Name} to {homes[^1].Name}, each with six warm spots, nine probes, two weeks.
            Running here: PostgreSQL, Mosquitto, an intake, a silo and the pages. All they keep is in {servers.Folder}.
            Their probes speak to the broker as time passes. New alerts appear below.

            The pages: {page}
              {DemoPeople.Owner} owns {first}: {page}/sign-in?returnUrl=/homes/{first}/
              {DemoPeople.Member} is a member there, {DemoPeople.Guest} a guest: the same address
              {DemoPeople.Keeper} looks after the club: {page}/sign-in?returnUrl=/keeper
              Sign in by these names, each with the password: {DemoPeople.Password}

            To try in another terminal:

              export CHAMBER_CLUB_DATABASE="{servers.Database}"
              {program} home show {first}
              {program} home export {first} {first}-taken
              {program} silo --silo-port {DemoServers.FreePort()} --gateway-port {DemoServers.FreePort()}
              mosquitto_sub -p {servers.BrokerPort} -v -t 'homes/{first}/#'
              mosquitto_pub -p {servers.BrokerPort} -q 1 -t homes/{first}/chamber/plain-mat-mix/reading -m '{FarTooHot}'

            The last one is a mat that has got far too hot: see what the home says of it.
            Ctrl-C ends the demo and leaves nothing behind.

            """);
    }
}

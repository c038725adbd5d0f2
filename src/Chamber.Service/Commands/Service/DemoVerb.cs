using System.CommandLine;
using System.Net;
using System.Net.Sockets;
using Chamber.Core.Simulation;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Demo;
using NodaTime;
using Spectre.Console;

namespace Chamber.Service.Commands.Service;

/// <summary>Everything, on a simulated home, in its own directory.</summary>
internal static class DemoVerb
{
    public static Verb Create()
    {
        var speed = new Option<double>("--speed") { HelpName = "N",
            Description = "Seconds that pass in the simulated home for each real one: 1 to 600.", DefaultValueFactory = _ => 60 };
        var seed = new Option<int>("--seed") { HelpName = "N", Description = "Another number makes another fortnight.",
            DefaultValueFactory = _ => 1 };
        var page = Typed.Option<int?>("--page-port", "N",
            "The port of its page. Default: the usual one, or a free one if that is taken.", text => Port(text));
        var broker = Typed.Option<int?>("--broker-port", "N",
            "The port of its broker. Default: the usual one, or a free one if that is taken.", text => Port(text));
        return new Verb("demo", "Shows everything on a simulated home: six warm spots, nine probes, batches at every stage. Your own data "
            + "is not touched.", "chamber demo", "chamber demo --speed 300 --seed 7") { speed, seed, page, broker, Record(seed) }
            .Does(async invocation =>
            {
                var pace = BadInputException.In("speed", () => Core.Bounds.DemoSpeed.Require(invocation.Parse.GetValue(speed)));
                using var directory = DemoDirectory.Choose(invocation.Parse.GetValue(CommonOptions.Data));
                var settings = Settings(directory.Data, invocation, invocation.Parse.GetValue(page), invocation.Parse.GetValue(broker));
                return await Run(invocation, settings, directory.Data, pace, invocation.Parse.GetValue(seed));
            });
    }

    private static Verb Record(Option<int> seed)
    {
        var folder = new Argument<string>("folder") { HelpName = "DIR",
            Description = "The folder for the files; an earlier recording there is replaced." };
        return new Verb("record", "Writes two weeks of messages and actions of the simulated home to files. The same seed writes the same "
            + "lines.", "chamber demo record demo-data/shared-flat") { folder, seed }
            .Does(invocation =>
            {
                var path = Path.GetFullPath(invocation.Parse.GetValue(folder)!);
                var number = invocation.Parse.GetValue(seed);
                var checksum = string.Empty;
                OutputFiles.Write(path, () => checksum = new FlatRecording(number).Write(path));
                invocation.Answer(new { Folder = path, Seed = number, Sha256 = checksum },
                    screen => screen.Headline($"Recorded in {path}, seed {number}. SHA-256 of the unpacked messages: {checksum}"));
            });
    }

    private static async Task<int> Run(Invocation invocation, Settings settings, DataDirectory data, double speed, int seed)
    {
        var zone = settings.Home.Zone!;
        var opens = Instant.FromUnixTimeSeconds(invocation.Now.ToUnixTimeSeconds());
        var story = WithProgress(invocation, progress => new DemoHome(data, settings, opens, zone, seed)
            .Furnish(progress, invocation.Cancel));
        var clock = new DemoClock(invocation.CommandContext.Clock, speed);
        clock.Note(data);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(invocation.Cancel);
        var playing = Task.CompletedTask;
        try
        {
            return await RunVerb.Run(settings, data, invocation, clock, (services, _) =>
            {
                Welcome(invocation, settings, data, speed);
                var player = new DemoPlayer(story, data, settings.Broker.Listen[0].Port!.Value, clock,
                    services.GetRequiredService<ILogger<DemoPlayer>>());

                // The host hears Ctrl-C too and takes its broker away: the probes stop before that.
                services.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping.Register(stop.Cancel);
                playing = player.Play(stop.Token);
                return Task.CompletedTask;
            }, variables: Variables(invocation));
        }
        finally
        {
            await stop.CancelAsync();
            await playing;
            clock.NoteStopped(data);
        }
    }

    // The environment decides as it does for any home, so that mirror, metrics and page can be tried; an option decides before it.
    private static Settings Settings(DataDirectory data, Invocation invocation, int? page, int? broker)
    {
        DemoHome.Write(data, new()
        {
            Home = new() { Zone = MachineZone.Find() },
            Broker = new() { Listen = [new() { Port = broker ?? Free(1883) }] },
            Page = new() { Port = page ?? Free(new PageSettings().Port) },
            Mappings = DemoMessages.Mappings,

            // Its clock runs fast and its home is nobody's.
            Backups = new() { On = false },
        });
        var settings = SettingsFile.Load(data, Variables(invocation));
        settings.Page.Port = page ?? settings.Page.Port;
        settings.Home.Zone ??= MachineZone.Find();
        return settings;
    }

    // All but those of the broker: the demo's probes speak to the demo's own.
    private static IEnumerable<KeyValuePair<string, string>> Variables(Invocation invocation) =>
        invocation.CommandContext.Variables.Where(one => !one.Key.StartsWith("CHAMBER_BROKER__", StringComparison.Ordinal));

    private static int Port(string text) =>
        int.TryParse(text, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var port)
        && Core.Bounds.Port.Holds(port)
        ? port
        : throw new FormatException($"\"{text}\" is not a port: write a number from 1 to {IPEndPoint.MaxPort}.");

    // The usual port where nobody has it, so that the address is the one of the documents; otherwise any.
    private static int Free(int usual)
    {
        foreach (var port in (int[])[usual, 0])
        {
            try
            {
                using var listener = new TcpListener(IPAddress.Loopback, port);
                listener.Start();
                return ((IPEndPoint)listener.LocalEndpoint).Port;
            }
            catch (SocketException) when (port != 0)
            {
                // Taken.
            }
        }

        return usual;
    }

    private static FlatStory WithProgress(Invocation invocation, Func<Action<double>, FlatStory> furnish)
    {
        if (invocation.Json || !invocation.Screen.IsTerminal)
        {
            return furnish(_ => { });
        }

        return invocation.Screen.Console.Progress().Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn())
            .AutoClear(true)
            .Start(bars =>
            {
                var bar = bars.AddTask("Two weeks in the shared flat", maxValue: 1);
                return furnish(done => bar.Value = done);
            });
    }

    private static void Welcome(Invocation invocation, Settings settings, DataDirectory data, double speed)
    {
        var answer = new { Page = PageAddress.Of(settings.Page), Broker = $"127.0.0.1:{settings.Broker.Listen[0].Port}", Data = data.Path,
            Speed = speed };
        invocation.Answer(answer, screen => Show(screen, settings, data, speed));
    }

    private static void Show(Screen screen, Settings settings, DataDirectory data, double speed)
    {
        screen.Headline($"A shared flat, invented: {SharedFlat.Spots.Count} warm spots, {SharedFlat.Probes.Count} probes, "
            + $"{SharedFlat.Batches.Count(batch => batch.Ended is null) + FlatGrownBatches.PlantingOut.Count} batches under way, at every "
            + $"stage. A day passes in {24 * 60 / speed:0} minutes.");
        screen.Facts(
        [
            ("The page", PageAddress.Of(settings.Page)!),
            ("Where for basil", $"chamber spots --crop basil --data {data.Path}"),
            ("When is it up", $"chamber batches --data {data.Path}"),
            ("What is wrong", $"chamber alerts --data {data.Path}"),
            ("What probes say", $"mosquitto_sub -h 127.0.0.1 -p {settings.Broker.Listen[0].Port} -v -t 'chamber/#' -t 'flat/#'"),
        ]);
        screen.Say("Your own data is not touched. Ctrl-C ends it.");
    }
}

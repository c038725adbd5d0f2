using System.CommandLine;
using System.Net;
using Chamber.Club.Homes;
using Microsoft.Extensions.Hosting;

namespace Chamber.Club.Commands;

/// <summary>Watches homes, together with the other silos.</summary>
internal static class SiloCommand
{
    public static Command Create()
    {
        var at = new Option<string>("--address")
        {
            HelpName = "IP",
            Description = "Where the other silos reach this one.",
            DefaultValueFactory = _ => "127.0.0.1",
        };
        var port = new Option<int>("--silo-port")
        {
            HelpName = "PORT",
            Description = "1 to 65535, for the other silos.",
            DefaultValueFactory = _ => 11111,
        }.Within(1, 65535);
        var listen = new Option<int?>("--listen-port")
        {
            HelpName = "PORT",
            Description = "1 to 65535, where it listens for the other silos when something passes --silo-port on to it, as for a container.",
        }.Within(1, 65535);
        var gateway = new Option<int>("--gateway-port")
        {
            HelpName = "PORT",
            Description = "1 to 65535, for whoever asks a home.",
            DefaultValueFactory = _ => 30000,
        }.Within(1, 65535);
        var (mail, metrics) = (new MailOptions(), new MetricsOptions());
        var command = new Command("silo", "Watch the homes of the club, together with the other silos, until it is stopped.")
        {
            at, port, listen, gateway,
        };
        mail.AddTo(command);
        metrics.AddTo(command);
        return command.Does(async (parsed, cancel) =>
        {
            var endpoint = new IPEndPoint(
                IPAddress.TryParse(parsed.GetValue(at), out var ip) ? ip : throw new FormatException("--address: write an IP address."),
                parsed.GetValue(port));
            await using var club = ClubCommand.Open(parsed);
            await using var counted = await metrics.StartAsync(parsed, cancel);
            using var host = SiloHost.Silo(club, ClubCommand.AddressOf(parsed), endpoint,
                parsed.GetValue(gateway), mail.Of(parsed), parsed.GetValue(listen));
            await host.StartAsync(cancel);
            Console.WriteLine($"The silo at {endpoint} watches homes.");
            await host.WaitForShutdownAsync(cancel);
        });
    }
}

using System.CommandLine;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Chamber.Club.Homes;
using Chamber.Club.Pages;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace Chamber.Club.Commands;

/// <summary>Serves the pages of the club.</summary>
internal static class PageCommand
{
    public static Command Create()
    {
        var at = new Option<string>("--address")
        {
            HelpName = "IP",
            Description = "Where browsers reach it.",
            DefaultValueFactory = _ => "127.0.0.1",
        };
        var port = new Option<int>("--port") { HelpName = "PORT", Description = "1 to 65535.", DefaultValueFactory = _ => 8480 }
            .Within(1, 65535);
        var certificate = new Option<string?>("--certificate") { HelpName = "FILE", Description = "For TLS: PEM, with --key." };
        var key = new Option<string?>("--key") { HelpName = "FILE", Description = "The key of the certificate: PEM." };
        var proxy = new Option<bool>("--behind-proxy") { Description = "A proxy on this machine stands in front, and speaks TLS." };
        var broker = new Option<string>("--broker")
        {
            HelpName = "ADDRESS",
            Description = "Where sensors reach the broker, as people are to type it into them.",
            DefaultValueFactory = _ => "the club's broker",
        };
        var metrics = new MetricsOptions();
        var command = new Command("page", "Serve the pages of the club: sign-in, and each home's own, until it is stopped.")
        {
            at, port, certificate, key, proxy, broker,
        };
        metrics.AddTo(command);
        return command.Does(async (parsed, cancel) =>
        {
            var address = IPAddress.TryParse(parsed.GetValue(at), out var ip) ? ip
                : throw new FormatException("--address: write an IP address.");
            var options = new PageOptions(new(address, parsed.GetValue(port)),
                Certificate(parsed.GetValue(certificate), parsed.GetValue(key)), parsed.GetValue(proxy), parsed.GetValue(broker)!);
            if (options is { Certificate: null, BehindProxy: false } && !IPAddress.IsLoopback(address))
            {
                throw new FormatException("Passwords would go over the network as plain text: give --certificate and --key, or listen on "
                    + "127.0.0.1 behind a proxy that speaks TLS, with --behind-proxy.");
            }

            using var logs = LoggerFactory.Create(log => log.AddSimpleConsole(line => line.SingleLine = true));
            await using var club = ClubCommand.Open(parsed);
            await using var counted = await metrics.StartAsync(parsed, cancel);
            await using var teller = new HomeTeller(ClubCommand.AddressOf(parsed), TimeProvider.System, logs.CreateLogger<HomeTeller>());

            // Somebody has just written something down: the home looks at once.
            await using var page = PageHost.Build(club, options, home => teller.Tell(new Dictionary<int, bool> { [home] = true }));
            using var gauges = counted is null ? null
                : new ClubGauges(club, page.Services.GetRequiredService<HomeSites>(), TimeProvider.System);
            await page.StartAsync(cancel);
            Console.WriteLine($"The pages of the club are at {string.Join(", ", page.Urls)}");
            await page.WaitForShutdownAsync(cancel);
        });
    }

    private static X509Certificate2? Certificate(string? certificate, string? key)
    {
        try
        {
            return certificate is null ? null : X509Certificate2.CreateFromPemFile(certificate, key);
        }
        catch (CryptographicException problem)
        {
            throw new FormatException($"{certificate} with its key cannot be used: {problem.Message}", problem);
        }
    }
}

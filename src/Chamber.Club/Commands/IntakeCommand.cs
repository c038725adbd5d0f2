using System.CommandLine;
using Chamber.Club.Homes;
using Chamber.Club.Intake;
using Chamber.Mqtt.Connection;
using Microsoft.Extensions.Logging;

namespace Chamber.Club.Commands;

/// <summary>Receives readings of all homes.</summary>
internal static class IntakeCommand
{
    public static Command Create()
    {
        var host = new Option<string>("--broker-host")
        {
            HelpName = "HOST",
            Description = "The broker.",
            DefaultValueFactory = _ => "127.0.0.1",
        };
        var port = new Option<int>("--broker-port") { HelpName = "PORT", Description = "1 to 65535.", DefaultValueFactory = _ => 1883 }
            .Within(1, 65535);
        var user = new Option<string?>("--broker-user") { HelpName = "NAME", Description = "With --broker-password-file." };
        var password = new Option<string?>("--broker-password-file") { HelpName = "FILE", Description = "Holds nothing but the password." };
        var slots = new Option<int>("--slots")
        {
            HelpName = "N",
            Description = "Places from which the club receives, 1 to 64, the same in each process; the first free one is taken.",
            DefaultValueFactory = _ => 2,
        }.Within(1, 64);
        var metrics = new MetricsOptions();
        var command = new Command("intake", "Receive readings of all homes until it is stopped.") { host, port, user, password, slots };
        metrics.AddTo(command);
        return command.Does(async (parsed, cancel) =>
            {
                using var logs = LoggerFactory.Create(log => log.AddSimpleConsole(line => line.SingleLine = true));
                var broker = new BrokerAddress
                {
                    Host = parsed.GetValue(host)!,
                    Port = parsed.GetValue(port),
                    User = parsed.GetValue(user),
                    PasswordFile = parsed.GetValue(password),
                };
                await using var club = ClubCommand.Open(parsed);
                await using var counted = await metrics.StartAsync(parsed, cancel);
                await using var teller = new HomeTeller(ClubCommand.AddressOf(parsed), TimeProvider.System,
                    logs.CreateLogger<HomeTeller>());
                var receiver = new ClubIntake(club, teller.Tell, broker, new(), TimeProvider.System, logs.CreateLogger<ClubIntake>());
                await new IntakeLoop(club, receiver, parsed.GetValue(slots), TimeProvider.System, logs.CreateLogger<IntakeLoop>())
                    .RunAsync(cancel);
            });
    }
}

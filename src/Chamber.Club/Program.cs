using System.CommandLine;
using Chamber.Club.Intake;
using Chamber.Club.Store;
using Chamber.Mqtt.Connection;
using Microsoft.Extensions.Logging;
using MQTTnet.Exceptions;

var database = new Option<string>("--database")
{
    HelpName = "ADDRESS",
    Description = "The club's PostgreSQL: Host=...;Database=...;Username=... Also as CHAMBER_CLUB_DATABASE, which other users cannot see.",
    DefaultValueFactory = _ => Environment.GetEnvironmentVariable("CHAMBER_CLUB_DATABASE") ?? "",
    Recursive = true,
};
var root = new RootCommand("Chamber for many homes: one database, one broker.") { database };

var name = new Argument<string>("NAME") { Description = "1 to 40 small letters, digits and hyphens." };
var add = new Command("add", "Make a home.") { name };
add.SetAction((parsed, cancel) => Answered(async () =>
{
    await using var club = ClubDatabase.Open(Address(parsed));
    var number = await club.AddHomeAsync(parsed.GetValue(name)!, cancel);
    Console.WriteLine($"Home {number}, {parsed.GetValue(name)}.");
    Console.WriteLine($"Its sensors publish under homes/{parsed.GetValue(name)}/chamber/PROBE/reading.");
}));
root.Add(new Command("home", "The homes of the club.") { add });

var host = new Option<string>("--broker-host") { HelpName = "HOST", Description = "The broker.", DefaultValueFactory = _ => "127.0.0.1" };
var port = new Option<int>("--broker-port") { HelpName = "PORT", Description = "1 to 65535.", DefaultValueFactory = _ => 1883 };
var user = new Option<string?>("--broker-user") { HelpName = "NAME", Description = "With --broker-password-file." };
var password = new Option<string?>("--broker-password-file") { HelpName = "FILE", Description = "Holds nothing but the password." };
var slots = new Option<int>("--slots")
{
    HelpName = "N",
    Description = "Places from which the club receives, 1 to 64, the same in each process; the first free one is taken.",
    DefaultValueFactory = _ => 2,
};
port.Validators.Add(result => Within(result, 1, 65535));
slots.Validators.Add(result => Within(result, 1, 64));
var intake = new Command("intake", "Receive readings of all homes until it is stopped.") { host, port, user, password, slots };
intake.SetAction((parsed, cancel) => Answered(async () =>
{
    using var logs = LoggerFactory.Create(log => log.AddSimpleConsole(line => line.SingleLine = true));
    var broker = new BrokerAddress
    {
        Host = parsed.GetValue(host)!,
        Port = parsed.GetValue(port),
        User = parsed.GetValue(user),
        PasswordFile = parsed.GetValue(password),
    };
    await using var club = ClubDatabase.Open(Address(parsed));
    var receiver = new ClubIntake(club, broker, new(), TimeProvider.System, logs.CreateLogger<ClubIntake>());
    await new IntakeLoop(club, receiver, parsed.GetValue(slots), TimeProvider.System, logs.CreateLogger<IntakeLoop>()).RunAsync(cancel);
}));
root.Add(intake);
return await root.Parse(args).InvokeAsync();

string Address(ParseResult parsed) => parsed.GetValue(database) is { Length: > 0 } address
    ? address
    : throw new FormatException("Name the club's database: --database \"Host=...;Database=...;Username=...\".");

static void Within(System.CommandLine.Parsing.OptionResult result, int low, int high)
{
    if (result.GetValueOrDefault<int>() is var number && (number < low || number > high))
    {
        result.AddError($"{result.Option.Name} is {number}: {low} to {high}.");
    }
}

static async Task<int> Answered(Func<Task> act)
{
    try
    {
        await act();
        return 0;
    }
    catch (Exception problem) when (problem is StoreException or FormatException or MqttCommunicationException or IOException)
    {
        await Console.Error.WriteLineAsync(problem.Message);
        return problem is FormatException ? 2 : 1;
    }
}

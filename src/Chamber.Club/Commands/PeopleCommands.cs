using System.CommandLine;
using Chamber.Club.People;

namespace Chamber.Club.Commands;

/// <summary>Letting in the first people and sensors, and what the broker must know of them.</summary>
internal static class PeopleCommands
{
    private static readonly Argument<string> Home = new("HOME") { Description = "The name of the home." };
    private static readonly Argument<string> Name = new("NAME") { Description = "The name of the sensor's probe." };

    public static Command Invite()
    {
        var whom = new Argument<string>("WHOM") { Description = "For whom the link is, in 1 to 60 characters." };
        var home = new Option<string?>("--home")
        {
            HelpName = "HOME",
            Description = "To own a home that has nobody yet; without it, to look after the club.",
        };
        var page = new Option<string>("--page")
        {
            HelpName = "URL",
            Description = "Where people reach the pages of the club.",
            DefaultValueFactory = _ => "http://127.0.0.1:8480",
        };
        return new Command("invite", "Make a link, used once within two weeks, for a keeper of the club or the first owner of a home.")
        {
            whom, home, page,
        }.Does(async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var invitations = new Invitations(club, TimeProvider.System);
            var secret = parsed.GetValue(home) is { } name
                ? await invitations.HandOverAsync(await club.RequireAsync(name, cancel), parsed.GetValue(whom)!, cancel)
                : await invitations.InviteKeeperAsync(parsed.GetValue(whom)!, cancel);
            Console.WriteLine($"{parsed.GetValue(page)!.TrimEnd('/')}/invitation/{secret}");
        });
    }

    public static Command Sensors() => new("sensor", "Accounts of sensors at the club's broker.") { Add(), Remove(), Files() };

    private static Command Add()
    {
        var bridge = new Option<bool>("--bridge") { Description = "It writes every topic of the home, as a broker at home does." };
        return new Command("add", "Let a sensor in, or give it a new password.") { Home, Name, bridge }.Does(async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var home = parsed.GetValue(Home)!;
            var made = await new Sensors(club).AddAsync(await club.RequireAsync(home, cancel), home, parsed.GetValue(Name)!,
                parsed.GetValue(bridge), cancel);
            Console.WriteLine($"User:     {made.User}");
            Console.WriteLine($"Password: {made.Password}");
            Console.WriteLine($"Topic:    {made.Topic}");
            Console.WriteLine("It works once the broker has its new files: chamber-club sensor files");
        });
    }

    private static Command Remove() => new Command("remove", "Shut a sensor out.") { Home, Name }.Does(async (parsed, cancel) =>
    {
        await using var club = ClubCommand.Open(parsed);
        var (home, name) = (parsed.GetValue(Home)!, parsed.GetValue(Name)!);
        if (!await new Sensors(club).RemoveAsync(await club.RequireAsync(home, cancel), name, cancel))
        {
            throw new FormatException($"{home} has no sensor \"{name}\".");
        }

        Console.WriteLine("It is shut out once the broker has its new files: chamber-club sensor files");
    });

    private static Command Files()
    {
        var (passwords, access) = (File("--passwords", "Mosquitto's password_file."), File("--access", "Mosquitto's acl_file."));
        var user = new Option<string?>("--broker-user") { HelpName = "NAME", Description = "The account of the intake." };
        var password = new Option<string?>("--broker-password-file") { HelpName = "FILE", Description = "Holds nothing but its password." };
        return new Command("files", "Write the broker's files, whole, from the database; then let the broker read them again (SIGHUP).")
        {
            passwords, access, user, password,
        }.Does(async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var intake = (parsed.GetValue(user), parsed.GetValue(password)) switch
            {
                (null, null) => ((string, string)?)null,
                ({ } name, { } file) => (name, (await System.IO.File.ReadAllTextAsync(file, cancel)).Trim()),
                _ => throw new FormatException("Give --broker-user and --broker-password-file together."),
            };
            var files = await BrokerFiles.OfAsync(club, intake, cancel);
            await WriteAsync(parsed.GetValue(passwords)!, files.Passwords, cancel);
            await WriteAsync(parsed.GetValue(access)!, files.Access, cancel);
            Console.WriteLine("Written. Let the broker read them: systemctl reload mosquitto");
        });
    }

    private static Option<string> File(string name, string description) =>
        new(name) { HelpName = "FILE", Description = description, Required = true };

    // Into the file that is there, whose owner and mode are as the broker needs them. A new one is closed to strangers.
    private static async Task WriteAsync(string path, string text, CancellationToken cancel)
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead;
        }

        await using var file = new FileStream(path, options);
        await file.WriteAsync(System.Text.Encoding.UTF8.GetBytes(text), cancel);
    }
}

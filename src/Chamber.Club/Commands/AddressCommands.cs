using System.CommandLine;
using Chamber.Club.Notices;

namespace Chamber.Club.Commands;

/// <summary>Who gets the notices of a home.</summary>
internal static class AddressCommands
{
    private static readonly Argument<string> Home = new("HOME") { Description = "The home's name." };
    private static readonly Argument<string> Mail = new("MAIL") { Description = "An e-mail address." };

    public static Command Create() => new("address", "Who gets a home's notices by e-mail.") { Add(), Remove(), List() };

    private static Command Add() => new Command("add", "Send a home's notices to an address.") { Home, Mail }.Does(async (parsed, cancel) =>
    {
        await using var club = ClubCommand.Open(parsed);
        var name = parsed.GetValue(Home)!;
        var (mail, isNew) = await HomeAddresses.AddAsync(club, await club.RequireAsync(name, cancel), parsed.GetValue(Mail)!, cancel);
        Console.WriteLine(isNew ? $"Notices of {name} go to {mail}." : $"Notices of {name} go to {mail} already.");
        Console.WriteLine("They leave by silos that were started with --mail-host.");
    });

    private static Command Remove() => new Command("remove", "Send an address nothing more.") { Home, Mail }.Does(async (parsed, cancel) =>
    {
        await using var club = ClubCommand.Open(parsed);
        var (name, mail) = (parsed.GetValue(Home)!, parsed.GetValue(Mail)!);
        var home = await club.RequireAsync(name, cancel);
        if (!await club.AsAsync(home, session => NoticeRows.RemoveAsync(session, home, mail), cancel))
        {
            throw new FormatException($"{name} has no address {mail}. Which there are: chamber-club address list {name}");
        }

        Console.WriteLine($"{mail} gets no more notices of {name}; what waited for it is dropped.");
    });

    private static Command List() => new Command("list", "Show a home's addresses, and which notices could not be sent.") { Home }.Does(
        async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var name = parsed.GetValue(Home)!;
            var home = await club.RequireAsync(name, cancel);
            var (addresses, givenUp) = await club.AsAsync(home, async session =>
                (await NoticeRows.AddressesAsync(session, home), await NoticeRows.GivenUpAsync(session, home)), cancel);
            Console.WriteLine(addresses.Count == 0 ? $"Nobody gets notices of {name}: chamber-club address add {name} MAIL"
                : string.Join(Environment.NewLine, addresses));
            foreach (var one in givenUp)
            {
                Console.WriteLine($"Not sent to {one.Mail}: {one.Title}. {one.Reason}");
            }
        });
}

using System.CommandLine;
using Chamber.Club.Notices;
using MimeKit;

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
        var (name, mail) = (parsed.GetValue(Home)!, AddressOf(parsed.GetValue(Mail)!));
        var home = await club.RequireAsync(name, cancel);
        var isNew = await club.AsAsync(home, async session =>
        {
            await session.LockAsync([home]);
            return (await NoticeRows.AddressesAsync(session, home)).Count < NoticeRows.AddressesMax
                ? await NoticeRows.AddAsync(session, home, mail)
                : throw new FormatException($"{name} has {NoticeRows.AddressesMax} addresses, and no more can be added. Remove one: "
                    + $"chamber-club address remove {name} MAIL");
        }, cancel);
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

    private static string AddressOf(string text) => MailboxAddress.TryParse(text, out var mailbox) && mailbox.Address.Contains('@')
        && !mailbox.Address.Any(char.IsWhiteSpace)
        ? mailbox.Address
        : throw new FormatException($"\"{text}\" is no e-mail address, such as ana@example.org.");
}

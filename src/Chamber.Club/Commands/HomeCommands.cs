using System.CommandLine;
using System.Globalization;
using Chamber.Club.Homes;
using Chamber.Club.Moving;
using Chamber.Storage.Moving;

namespace Chamber.Club.Commands;

/// <summary>Homes are made, taken in and taken out.</summary>
internal static class HomeCommands
{
    private static readonly Argument<string> Name = new("NAME") { Description = "1 to 40 small letters, digits and hyphens." };

    public static Command Create() => new("home", "The homes of the club.") { Add(), Import(), Export(), Show() };

    private static Command Add() => new Command("add", "Make a home.") { Name }.Does(async (parsed, cancel) =>
    {
        await using var club = ClubCommand.Open(parsed);
        var name = parsed.GetValue(Name)!;
        var number = await club.AddHomeAsync(name, cancel);
        Console.WriteLine($"Home {number}, {name}.");
        Console.WriteLine($"Its sensors publish under homes/{name}/chamber/PROBE/reading.");
    });

    private static Command Import()
    {
        var folder = new Argument<string>("FOLDER") { Description = "A folder that chamber export --all has written." };
        return new Command("import", "Import a whole home.") { Name, folder }.Does(async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var name = parsed.GetValue(Name)!;
            var moved = await HomeMove.ImportAsync(club, name, parsed.GetValue(folder)!, cancel);
            Console.WriteLine($"{name} is here: {moved.Entries} entries and {moved.Readings} new readings.");
            if (moved.LeftOut > 0)
            {
                Console.WriteLine($"{moved.LeftOut} of the entries count for nothing, as at home.");
            }

            if (moved.Parts.Count > 0)
            {
                Console.WriteLine($"With it came: {Words(moved.Parts)}.");
            }

            if (moved.Strange.Count > 0)
            {
                Console.WriteLine($"Left out, since it is no part of a home: {string.Join(", ", moved.Strange)}.");
            }

            Console.WriteLine("No export holds alerts (they are worked out again), nor what chamber.json says of the machine and of notices.");
        });
    }

    private static Command Export()
    {
        var folder = new Argument<string>("FOLDER") { Description = "A new folder." };
        return new Command("export", "Export a whole home, for chamber import-home.") { Name, folder }.Does(async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var to = parsed.GetValue(folder)!;
            var moved = await HomeMove.ExportAsync(club, parsed.GetValue(Name)!, to, cancel);
            Console.WriteLine($"{parsed.GetValue(Name)} is in {to}: {moved.Entries} entries and {moved.Readings} readings.");
            if (moved.Parts.Count > 0)
            {
                Console.WriteLine($"As they came in: {Words(moved.Parts)}.");
            }

            Console.WriteLine($"Elsewhere: chamber import-home {to}");
        });
    }

    private static Command Show() => new Command("show", "Show a home as it is now: its spots and open alerts.") { Name }.Does(
        async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var home = await club.RequireAsync(parsed.GetValue(Name)!, cancel);
            var shown = await HomeAsking.AskAsync(ClubCommand.AddressOf(parsed), home, grain => grain.ShowAsync(), cancel);
            foreach (var spot in shown.Spots)
            {
                Console.WriteLine(spot is { Celsius: { } celsius, At: { } at }
                    ? string.Create(CultureInfo.InvariantCulture, $"{spot.Spot}: {celsius:0.0} °C at {at:yyyy-MM-dd HH:mm:ss} UTC")
                    : $"{spot.Spot}: nothing measured.");
            }

            Console.WriteLine(shown.Alerts.Length == 0 ? "No alert is open." : "Open alerts:");
            foreach (var alert in shown.Alerts)
            {
                Console.WriteLine(alert.Text);
            }

            if (shown.AsOf is { } known)
            {
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                    $"The database does not answer: this is what was known at {known:yyyy-MM-dd HH:mm:ss} UTC. What comes in waits."));
            }

            if (!shown.IsWatched)
            {
                Console.WriteLine("The watch is starting up: these alerts are from before.");
            }
            else if (!shown.IsTold)
            {
                Console.WriteLine("Readings came in of which this home was not told; it finds them by itself, up to a minute late. "
                    + "The intake does not reach the silos: its log says why.");
            }
        });

    private static string Words(IReadOnlyList<string> parts)
    {
        var photos = parts.Count(part => part.StartsWith(HomeFolder.Photos, StringComparison.Ordinal));
        return string.Join(", ", parts.Where(part => !part.StartsWith(HomeFolder.Photos, StringComparison.Ordinal))
            .Concat(photos > 0 ? [$"{photos} files of photos"] : Array.Empty<string>()));
    }
}

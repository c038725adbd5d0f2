using System.CommandLine;
using Chamber.Club.Sharing;
using Chamber.Service.Ground;
using Chamber.Storage.Moving;

namespace Chamber.Club.Commands;

/// <summary>What homes of the club learn from one another.</summary>
internal static class ExperienceCommands
{
    private static readonly Argument<string> Home = new("HOME") { Description = "The home's name." };

    public static Command Create() => new("experience", "What homes learn from one another.") { Agree(), Withdraw(), Gather(), Write() };

    private static Command Agree() => new Command("agree", "Let a home's ended batches teach the others.") { Home }.Does(
        async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var name = parsed.GetValue(Home)!;
            await new ClubExperience(club).AgreeAsync(await club.RequireAsync(name, cancel), cancel);
            Console.WriteLine($"{name} gives what its ended batches have shown, without names and days, from the next gathering on.");
            Console.WriteLine("Gather: chamber-club experience gather");
        });

    private static Command Withdraw() => new Command("withdraw", "Take back what a home gave.") { Home }.Does(async (parsed, cancel) =>
    {
        await using var club = ClubCommand.Open(parsed);
        var name = parsed.GetValue(Home)!;
        if (!await new ClubExperience(club).WithdrawAsync(await club.RequireAsync(name, cancel), cancel))
        {
            throw new FormatException($"{name} gives nothing.");
        }

        Console.WriteLine($"{name} gives nothing more, and what it gave is gone.");
    });

    private static Command Gather() => new Command("gather", "Work out what the homes that agree have to give; once a day is enough.").Does(
        async (parsed, cancel) =>
        {
            await using var club = ClubCommand.Open(parsed);
            var experience = new ClubExperience(club);
            var (homes, batches) = (0, 0);
            var agreed = await experience.AgreedAsync(cancel);
            foreach (var home in agreed)
            {
                if (await experience.GatherAsync(home, TimeProvider.System, cancel) is { } given)
                {
                    (homes, batches) = (homes + 1, batches + given);
                }

                if (!Console.IsOutputRedirected)
                {
                    Console.Write($"\r{homes} of {agreed.Count} homes");
                }
            }

            var start = Console.IsOutputRedirected ? "" : "\r";
            Console.WriteLine($"{start}Gathered: {CountText.Of(homes, "home")}, {CountText.Of(batches, "batch", "batches")}.");
            using var learned = new ClubLearned(club, TimeProvider.System);
            if (await learned.RebuildAsync(cancel))
            {
                Console.WriteLine("Learned again from it.");
            }
        });

    private static Command Write()
    {
        var file = new Argument<string>("FILE") { Description = "The file to write." };
        return new Command("write", "Write what all of them gave as a file, for homes outside: chamber experience take FILE") { file }.Does(
            async (parsed, cancel) =>
            {
                await using var club = ClubCommand.Open(parsed);
                var given = (await new ClubExperience(club).GivenAsync(cancel)).Where(home => home.Batches.Count > 0).ToList();
                await File.WriteAllTextAsync(parsed.GetValue(file)!, new ExperienceFile(given).Write(), cancel);
                Console.WriteLine($"{parsed.GetValue(file)} has what {CountText.Of(given.Count, "home")} gave.");
            });
    }
}

using System.CommandLine;
using Chamber.Club.Boards;
using Chamber.Service.Boards;

namespace Chamber.Club.Commands;

/// <summary>Writes the board of the club and the rules for a Prometheus.</summary>
internal static class BoardsCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER") { Description = "Where to; it is made if there is none." };
        return new Command("boards", "Write a ready-made board of the club's health, and alert rules for a Prometheus.") { folder }.Does(
            async (parsed, cancel) =>
            {
                var target = Directory.CreateDirectory(parsed.GetValue(folder)!).FullName;
                foreach (var (name, text) in Files())
                {
                    await File.WriteAllTextAsync(Path.Combine(target, name), text, cancel);
                }

                Console.WriteLine($"A board and a file of alert rules are in {target}. How to load them: docs/dashboards.md");
            });
    }

    public static IEnumerable<(string Name, string Text)> Files() =>
        [($"{ClubBoard.Name}.json", BoardFile.Text(ClubBoard.Make())), (ClubRules.FileName, ClubRules.Text())];
}

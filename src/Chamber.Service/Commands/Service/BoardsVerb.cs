using System.CommandLine;
using Chamber.Service.Boards;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Service;

/// <summary>Writes the ready-made boards for a dashboard server.</summary>
internal static class BoardsVerb
{
    public static Verb Create()
    {
        var folder = new Argument<string>("folder") { Description = "The folder; it is made if it does not exist." };
        return new Verb("boards", "Writes ready-made boards for a dashboard server that you run already.",
            "chamber boards boards/") { folder }
            .Does(invocation =>
            {
                var target = Path.GetFullPath(invocation.Parse.GetValue(folder)!);
                Directory.CreateDirectory(target);
                var files = BoardList.All.Select(board => Write(target, board)).ToList();
                invocation.Answer(files, screen =>
                {
                    screen.Headline($"{files.Count} boards are in {target}.");
                    screen.Say("How to load them: docs/dashboards.md");
                });
            });
    }

    private static string Write(string folder, Board board)
    {
        var path = Path.Combine(folder, board.Name + ".json");
        File.WriteAllText(path, BoardFile.Text(board));
        return path;
    }
}

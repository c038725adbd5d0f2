using System.CommandLine;
using Chamber.Service.Boards;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Service;

/// <summary>Writes the ready-made boards for a dashboard server, and alert rules for a Prometheus.</summary>
internal static class BoardsVerb
{
    public static Verb Create()
    {
        var folder = new Argument<string>("folder") { Description = "The folder; it is made if it does not exist." };
        return new Verb("boards", "Writes ready-made boards for a dashboard server that you run already, and alert rules for a Prometheus.",
            "chamber boards boards/", "chamber boards boards/ --units F") { folder }
            .Does(invocation =>
            {
                var target = Path.GetFullPath(invocation.Parse.GetValue(folder)!);
                Directory.CreateDirectory(target);
                List<string> files =
                [
                    .. BoardList.In(invocation.Scale).Select(board => Write(target, board.Name + ".json", BoardFile.Text(board))),
                    Write(target, AlertRules.FileName, AlertRules.Text()),
                ];
                invocation.Answer(files, screen =>
                {
                    screen.Headline($"{files.Count - 1} boards and a file of alert rules are in {target}.");
                    screen.Say("How to load them: docs/dashboards.md");
                });
            });
    }

    private static string Write(string folder, string name, string text)
    {
        var path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}

using System.CommandLine;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Gives something another name.</summary>
internal static class RenameVerb
{
    public static Verb Create()
    {
        var what = new Argument<string>("what") { Description = "batch, spot, lot or probe." };
        var name = new Argument<string>("name") { Description = "Its name until now." };
        var to = new Argument<string>("to") { Description = "Its name from now on." };
        return new Verb("rename", "Gives a batch, spot, lot or probe another name; its history stays with it.",
            "chamber rename spot shelf warm-shelf", "chamber rename batch T3 T30") { what, name, to }
            .Does(invocation =>
            {
                var (typed, from) = (invocation.Parse.GetValue(what)!, invocation.Parse.GetValue(name)!);
                var named = invocation.History.Rename(RecordWords.Subject(typed, from)!.Value, invocation.Parse.GetValue(to)!);
                invocation.Answer(named, screen => screen.Headline($"{from} is called {named.Name} from now on."));
            });
    }
}

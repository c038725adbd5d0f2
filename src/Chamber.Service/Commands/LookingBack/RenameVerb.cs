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
        var to = new Argument<string?>("to") { Description = "Its name from now on.", Arity = ArgumentArity.ZeroOrOne };
        var shown = new Option<string?>("--shown") { HelpName = "TEXT",
            Description = "How people see it, in any letters; empty for its own name. Not for a lot." };
        return new Verb("rename", "Gives a batch, spot, lot or probe another name; its history stays with it.",
            "chamber rename spot shelf warm-shelf", "chamber rename batch T3 T30",
            "chamber rename spot boiler-top --shown \"Küche, oben\"") { what, name, to, shown }
            .Does(invocation =>
            {
                var (typed, from) = (invocation.Parse.GetValue(what)!, invocation.Parse.GetValue(name)!);
                var subject = RecordWords.Subject(invocation, typed, from)!.Value;
                if (invocation.Parse.GetValue(to) is { } name2)
                {
                    subject = invocation.History.Rename(subject, name2);
                }

                var shownAs = invocation.Parse.GetValue(shown) is { } text ? invocation.History.ShowAs(subject, text) : null;
                if (subject.Name == from && shownAs is null)
                {
                    throw new BadInputException("Say the new name, or how it is shown: --shown \"Küche, oben\"");
                }

                invocation.Answer(subject, screen => screen.Headline(shownAs is null ? $"{from} is called {subject.Name} from now on."
                    : $"{subject.Name} is shown as {shownAs} from now on."));
            });
    }
}

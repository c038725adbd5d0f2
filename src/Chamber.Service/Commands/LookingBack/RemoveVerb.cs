using System.CommandLine;
using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Takes back an entry, or all that was written down of something.</summary>
internal static class RemoveVerb
{
    public static Verb Create()
    {
        var what = new Argument<string>("what") { Description = "The number of an entry; or batch, spot, lot or probe." };
        var name = new Argument<string?>("name") { Description = "Which one.", Arity = ArgumentArity.ZeroOrOne };
        return new Verb("remove", "Takes back an entry, or all that was written down of something, as if it had never been.",
            "chamber remove 28", "chamber remove batch T6") { what, name }
            .Does(invocation =>
            {
                var (typed, named) = (invocation.Parse.GetValue(what)!, invocation.Parse.GetValue(name));
                IReadOnlyList<HistoryLine> gone = named is null
                    && long.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                    ? [invocation.History.Remove(number)]
                    : invocation.History.RemoveAll(RecordWords.Subject(invocation, typed, named)!.Value);
                invocation.Answer(gone, screen => UndoVerb.Say(screen, gone));
            });
    }
}

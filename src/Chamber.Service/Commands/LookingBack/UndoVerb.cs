using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Takes back the last thing that whoever types has done.</summary>
internal static class UndoVerb
{
    public static Verb Create() =>
        new Verb("undo", "Takes back the last thing that you wrote down; again, the one before it.", "chamber undo")
            .Does(invocation =>
            {
                var undone = invocation.History.Undo();
                invocation.Answer(undone, screen => Say(screen, undone));
            });

    internal static void Say(Screen screen, IReadOnlyList<HistoryLine> undone)
    {
        screen.Headline($"Taken back: {string.Join("; ", undone.Reverse().Select(line => line.What))}.");
        screen.Aside("It stays in the record: chamber history");
    }
}

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
                IReadOnlyList<HistoryLine> gone = named is null && long.TryParse(typed, out var number)
                    ? [invocation.History.Remove(number)]
                    : invocation.History.RemoveAll(RecordWords.Subject(typed, named)!.Value);
                invocation.Answer(gone, screen => UndoVerb.Say(screen, gone));
            });
    }
}

/// <summary>Says what an entry should have been.</summary>
internal static class CorrectVerb
{
    public static Verb Create()
    {
        var number = new Argument<long>("number") { Description = "Which entry; chamber history has the numbers." };
        var parts = new Argument<string[]>("parts") { HelpName = "NAME=VALUE",
            Description = "What is other. Without a value: not known after all.", Arity = ArgumentArity.ZeroOrMore };
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was. As it was written unless told." };
        return new Verb("correct", "Says what an entry should have been; all answers follow.", "chamber correct 28 up=4",
            "chamber correct 28 --when \"2027-02-17 19:00\"") { number, parts, when }
            .Does(invocation =>
            {
                var changes = (invocation.Parse.GetValue(parts) ?? []).Select(Part).ToDictionary(part => part.Name, part => part.Value);
                var line = invocation.History.Correct(invocation.Parse.GetValue(number), changes, invocation.Parse.GetValue(when));
                invocation.Answer(line, screen => screen.Headline($"Corrected: {line.What}, {invocation.Show(line.At)}."));
            });
    }

    private static (string Name, JsonNode? Value) Part(string typed) => typed.Split('=', 2) switch
    {
        [var name, ""] => (name, null),
        [var name, var value] => (name, Value(value)),
        _ => throw new BadInputException($"\"{typed}\" says nothing: write NAME=VALUE, such as up=7."),
    };

    // A number or yes and no as JSON has them; everything else is text.
    private static JsonValue? Value(string text)
    {
        try
        {
            return JsonNode.Parse(text) is JsonValue value && value.GetValueKind() != JsonValueKind.String ? value : JsonValue.Create(text);
        }
        catch (JsonException)
        {
            return JsonValue.Create(text);
        }
    }
}

/// <summary>Gives something another name.</summary>
internal static class RenameVerb
{
    public static Verb Create()
    {
        var what = new Argument<string>("what") { Description = "batch, spot, lot or probe." };
        var name = new Argument<string>("name") { Description = "Its name until now." };
        var to = new Argument<string>("to") { Description = "Its name from now on." };
        return new Verb("rename", "Gives a batch, spot, lot or probe another name; all that was written down stays its own.",
            "chamber rename spot shelf warm-shelf", "chamber rename batch T3 T30") { what, name, to }
            .Does(invocation =>
            {
                var (typed, from) = (invocation.Parse.GetValue(what)!, invocation.Parse.GetValue(name)!);
                var named = invocation.History.Rename(RecordWords.Subject(typed, from)!.Value, invocation.Parse.GetValue(to)!);
                invocation.Answer(named, screen => screen.Headline($"{from} is called {named.Name} from now on."));
            });
    }
}

/// <summary>Says that readings are not to be used.</summary>
internal static class SetAsideVerb
{
    public static Verb Create()
    {
        var probe = Typed.Argument("probe", "Which probe.", text => new ProbeId(text));
        var from = new Option<string>("--from") { HelpName = "TIME", Description = "The first of them.", Required = true };
        var to = new Option<string>("--to") { HelpName = "TIME", Description = "Up to and without there.", Required = true };
        var why = new Option<string?>("--why") { HelpName = "TEXT", Description = "Why." };
        return new Verb("set-aside", "Says that readings of a probe are not to be used; they are kept, and every answer passes them over.",
            "chamber set-aside soil-1 --from 2027-02-20 --to 2027-02-21 --why \"fell out of the pot\"") { probe, from, to, why }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var line = invocation.History.SetAside(
                    parse.GetValue(probe), parse.GetValue(from)!, parse.GetValue(to)!, parse.GetValue(why));
                invocation.Answer(line, screen =>
                {
                    screen.Headline($"{char.ToUpperInvariant(line.What[0])}{line.What[1..]}.");
                    screen.Aside($"To use them again: chamber remove {line.Number}");
                });
            });
    }
}

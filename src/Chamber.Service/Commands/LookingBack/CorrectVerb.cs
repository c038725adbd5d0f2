using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Says what an entry should have been.</summary>
internal static class CorrectVerb
{
    public static Verb Create()
    {
        var number = new Argument<long>("number") { Description = "Which entry; chamber history has the numbers." };
        var parts = new Argument<string[]>("parts") { HelpName = "NAME=VALUE",
            Description = "What was wrong, with its right value; NAME= where it is not known after all.",
            Arity = ArgumentArity.ZeroOrMore };
        var when = new Option<string?>("--when") { HelpName = "TIME",
            Description = "When it really was. Default: as it was written down." };
        return new Verb("correct", "Says what an entry should have been; all answers follow.", "chamber correct 28 up=4",
            "chamber correct 28 --when \"2027-02-17 19:00\"") { number, parts, when }
            .Does(invocation =>
            {
                var changes = Changes(invocation.Parse.GetValue(parts) ?? []);
                var line = invocation.History.Correct(invocation.Parse.GetValue(number), changes, invocation.Parse.GetValue(when));
                invocation.Answer(line, screen => screen.Headline($"Corrected: {line.What}, {invocation.Show(line.At)}."));
            });
    }

    private static Dictionary<string, JsonNode?> Changes(IEnumerable<string> typed)
    {
        var changes = new Dictionary<string, JsonNode?>(StringComparer.Ordinal);
        foreach (var (name, value) in typed.Select(Part))
        {
            if (!changes.TryAdd(name, value))
            {
                throw new BadInputException($"\"{name}\" is given twice: give each part once.");
            }
        }

        return changes;
    }

    private static (string Name, JsonNode? Value) Part(string typed) => typed.Split('=', 2) switch
    {
        [{ Length: > 0 } name, ""] => (name, null),
        [{ Length: > 0 } name, var value] => (name, Value(value)),
        _ => throw new BadInputException($"\"{typed}\" is not a correction: write NAME=VALUE, such as up=7."),
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

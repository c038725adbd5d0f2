using System.CommandLine;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands.EveryVerb;

/// <summary>Every option and argument of every verb, given what it cannot be: one line that names no type of the program.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class BadInputTests : IDisposable
{
    // They run until they are stopped when nothing is wrong.
    private static readonly string[] Endless = ["run", "demo", "listen"];

    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task No_message_names_a_type_of_the_program()
    {
        await home.Do("spot add ledge", "sow okra --seeds 9 --spot ledge --name K1");
        var faults = new List<string>();
        var here = Environment.CurrentDirectory;
        foreach (var words in Lines(home.File("25;1 x")))
        {
            var outcome = await home.Run(words);
            var said = (outcome.Error + outcome.Out).Replace(here, "", StringComparison.Ordinal);
            if (outcome.Code is not (0 or 1 or 2) || Inside().IsMatch(said)
                || (outcome.Code != 0 && outcome.Error.TrimEnd('\n').Split('\n').Length != 1))
            {
                faults.Add($"{string.Join(' ', words)}: [{outcome.Code}] {outcome.Error}");
            }
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    private static IEnumerable<string[]> Lines(string bad)
    {
        foreach (var verb in CommandReference.Every())
        {
            string[] path = CommandReference.Path(verb).Split(' ');
            string[] needed = [.. verb.Arguments.Where(argument => argument.Arity.MinimumNumberOfValues > 0).Select(_ => "ledge")];
            yield return [.. path, .. needed, "--no-such-option"];
            foreach (var option in verb.Options.Where(option => option is not Option<bool> and not System.CommandLine.Help.HelpOption))
            {
                if (!Endless.Contains(path[0]) || option is not (Option<string> or Option<string?> or Option<string[]>))
                {
                    yield return [.. path, .. needed, option.Name, bad];
                    yield return [.. path, .. needed, option.Name, "-99999999999999999999"];
                }
            }

            if (!Endless.Contains(path[0]))
            {
                yield return [.. path, .. verb.Arguments.Select(_ => bad)];
            }
        }
    }

    [GeneratedRegex(
        @"System\.|Nullable|Int32|Int64|Exception|NodaTime|Object reference|Chamber\.(Core|Service|Storage|Mqtt)|`\d|expected type")]
    private static partial Regex Inside();
}

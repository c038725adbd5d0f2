using System.CommandLine;
using System.Globalization;
using System.Text;
using Chamber.Service.Commands;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Tests.Commands;

/// <summary>The command line as a document: made from the verbs themselves, so that it cannot say what they don't do.</summary>
internal static class CommandReference
{
    /// <summary>Every verb that does something, those under another one too.</summary>
    public static IEnumerable<Verb> Every() => Every(Verbs.All());

    public static string Write()
    {
        var page = new StringBuilder("""
            # Commands

            Every verb of `chamber`: what it is for, its options with their units and what holds when they are left out, and one example; `chamber VERB --help` has more. Made from the program itself by the test `CommandsDocumentTests`; don't edit by hand.

            A temperature is written with its unit (`22.5C`, `68F`), a length of time too (`90 min`, `2 h`, `3 d`), a share as `0.8` or `80%`. Times are RFC 3339 or local to the home. Bad input ends with exit code 2 and one line that gives the fix, another failure with 1.

            Every verb also takes:


            """);
        Options(page, [CommonOptions.Json, CommonOptions.Data, CommonOptions.Units]);
        foreach (var verb in Every())
        {
            page.Append(CultureInfo.InvariantCulture, $"## {Path(verb)}\n\n{verb.Description}\n\n```sh\n{verb.Examples[0]}\n```\n\n");
            Options(page, verb.Options, verb.Arguments);
        }

        return page.ToString().TrimEnd('\n') + "\n";
    }

    public static string Path(Command command) =>
        command.Parents.OfType<Command>().FirstOrDefault(parent => parent is not RootCommand) is { } parent
            ? $"{Path(parent)} {command.Name}" : command.Name;

    private static IEnumerable<Verb> Every(IEnumerable<Command> commands) =>
        commands.SelectMany(command => Every(command.Subcommands).Prepend(command as Verb)).OfType<Verb>()
            .Where(verb => verb.Action is not null);

    private static void Options(StringBuilder page, IEnumerable<Option> options, IEnumerable<Argument>? arguments = null)
    {
        List<(string Name, string Text)> rows =
        [
            .. (arguments ?? [])
                .Select(argument => (Arity(argument.HelpName ?? argument.Name, argument.Arity),
                argument.Description + Default(argument.HasDefaultValue, argument.GetDefaultValue))),
            .. options.Select(
                option => (option.HelpName is { } value ? $"{option.Name} {value}" : option.Name,
                option.Description + Default(option.HasDefaultValue, option.GetDefaultValue)
                + (option.Required ? " Required." : string.Empty))),
        ];
        if (rows.Count == 0)
        {
            return;
        }

        page.Append("| | |\n| --- | --- |\n");
        foreach (var (name, text) in rows)
        {
            page.Append(CultureInfo.InvariantCulture,
                $"| `{name.Replace("|", "\\|", StringComparison.Ordinal)}` | {text.Replace("|", "\\|", StringComparison.Ordinal)} |\n");
        }

        page.Append('\n');
    }

    private static string Arity(string name, ArgumentArity arity) =>
        (arity.MinimumNumberOfValues == 0 ? $"[{name}]" : name) + (arity.MaximumNumberOfValues > 1 ? "..." : string.Empty);

    private static string Default(bool has, Func<object?> value) =>
        has && value() is { } known and not false ? string.Create(CultureInfo.InvariantCulture, $" Default: {known}.") : string.Empty;
}

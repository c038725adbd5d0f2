using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Parsing;
using System.Text.RegularExpressions;
using Chamber.Core;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands;

/// <summary>The whole command line: runs one, and turns whatever goes wrong into one line and an exit code.</summary>
internal static partial class CommandLine
{
    public static async Task<int> Run(string[] arguments, CommandContext surroundings, CancellationToken stop = default)
    {
        Invocation.AmbientContext.Value = surroundings;
        try
        {
            var parse = Parse(arguments);
            var invocation = new InvocationConfiguration
            {
                Output = surroundings.Out,
                Error = surroundings.Error,
                EnableDefaultExceptionHandler = false,

                // Signals are taken in Program, the same way for every verb.
                ProcessTerminationTimeout = null,
            };
            return await parse.InvokeAsync(invocation, stop);
        }
#pragma warning disable CA1031 // The last place that can tell the user in plain words; a stack trace would not.
        catch (Exception problem)
#pragma warning restore CA1031
        {
            return Tell(problem, surroundings, NamedInstead(problem, arguments));
        }
    }

    /// <summary>A command line as typed, without its work being done.</summary>
    /// <exception cref="BadInputException">It cannot be read; the message gives the fix.</exception>
    public static ParseResult Parse(string[] arguments)
    {
        arguments = Understood(arguments);
        var parse = Root(arguments).Parse(arguments, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (IsSuggestion(arguments))
        {
            return parse;
        }

        if (parse.Action is HelpAction or HelpWithExamples)
        {
            return NoVerb(parse, arguments) is { } typed ? throw NoSuchVerb(parse.CommandResult.Command, typed)
                : parse;
        }

        if (parse.Errors.Count == 0)
        {
            return OptionTakenForArgument(parse, arguments) is { } option ? throw NoSuchOption(parse, option)
                : parse;
        }

        return IsGroupAlone(parse) ? Parse([.. arguments, "--help"])
            : WithOptions(parse, arguments) is { } understood ? Parse(understood)
            : throw FirstError(parse);
    }

    // A name alone says what it is, where the verb has an option for such a thing.
    private static string[]? WithOptions(ParseResult parse, string[] arguments)
    {
        if (parse.UnmatchedTokens.Count == 0 || parse.CommandResult.Command.Subcommands.Count > 0)
        {
            return null;
        }

        using var invocation = new Invocation(parse, CancellationToken.None);
        return new NamedHere(invocation).WithOptions(parse, arguments);
    }

    // What was typed for one thing may be the name of another.
    private static string? NamedInstead(Exception problem, string[] arguments)
    {
        if (problem is not (BadInputException or FormatException)
            || Array.FindLast(arguments, word => problem.Message.Contains($"\"{word}\"", StringComparison.Ordinal)
                || problem.Message.StartsWith($"{word} cannot be read", StringComparison.Ordinal)) is not { } word)
        {
            return null;
        }

        try
        {
            using var invocation = new Invocation(Root([]).Parse([.. DataOf(arguments)]), CancellationToken.None);
            return new NamedHere(invocation).Hint(word, problem.Message);
        }
        catch (Exception other) when (other is BadInputException or FormatException or StoreException or IOException)
        {
            // The first trouble is the one to tell.
            return null;
        }
    }

    private static string[] DataOf(string[] arguments) =>
        Array.IndexOf(arguments, "--data") is var at and >= 0 && at + 1 < arguments.Length ? ["--data", arguments[at + 1]] : [];

    // Nothing typed is a question, not a mistake; so is "help", and a noun with an s too many or too few is still that noun.
    private static string[] Understood(string[] arguments) => arguments switch
    {
        [] => ["--help"],
        ["help", .. var rest] => [.. Understood(rest), .. rest is [] ? Array.Empty<string>() : ["--help"]],
        [['-' or '[', ..], ..] => arguments,
        [var first, .. var rest] when !Verbs.Names.Contains(first) && Verbs.InOtherNumber(first) is { } name => [name, .. rest],
        _ => arguments,
    };

    // A shell asks what could come next, of a line that is not done.
    private static bool IsSuggestion(string[] arguments) => arguments[0].StartsWith("[suggest", StringComparison.Ordinal);

    // What it can do is what is asked for.
    private static bool IsGroupAlone(ParseResult parse) =>
        parse.CommandResult.Command is { Subcommands.Count: > 0, Action: null } && parse.UnmatchedTokens.Count == 0;

    private static RootCommand Root(string[] arguments)
    {
        var root = new RootCommand("Finds the best warm spot for each seed and says when it will be up.")
        {
            CommonOptions.Json,
            CommonOptions.Data,
            CommonOptions.Units,
        };
        foreach (var verb in Verbs.For(arguments))
        {
            root.Add(verb);
        }

        var help = root.Options.OfType<HelpOption>().Single();
        help.Action = new HelpWithExamples((HelpAction)help.Action!);
        return root;
    }

    private static BadInputException FirstError(ParseResult parse)
    {
        var command = parse.CommandResult.Command;
        var typed = parse.UnmatchedTokens.Count > 0 ? parse.UnmatchedTokens[0] : "";
        if (command.Subcommands.Count > 0 && typed.Length > 0)
        {
            return NoSuchVerb(command, typed);
        }

        return typed.StartsWith("--", StringComparison.Ordinal) ? NoSuchOption(parse, typed)
            : typed.Length > 0 ? Wrong(command, $"\"{Path(command)}\" takes no \"{typed}\" here.")
            : Wrong(command, $"{Missing(parse) ?? Plain(parse.Errors[0]).TrimEnd('.')}.");
    }

    private static BadInputException Wrong(Command command, string message) => new(message) { Hint = $"See: {Path(command)} --help" };

    // The parser names the command and not what it wants.
    private static string? Missing(ParseResult parse)
    {
        var command = parse.CommandResult.Command;
        if (!Absent().IsMatch(parse.Errors[0].Message))
        {
            return null;
        }

        string[] missing =
        [
            .. command.Arguments.Where(argument => argument.Arity.MinimumNumberOfValues > 0 && parse.GetResult(argument) is not
                { Tokens.Count: > 0 }).Select(argument => argument.HelpName ?? argument.Name),
            .. command.Options.Where(option => option.Required && parse.GetResult(option) is not { Tokens.Count: > 0 })
                .Select(option => option.Name),
        ];
        return missing.Length == 0 ? null : $"\"{Path(command)}\" needs {string.Join(" and ", missing)}"
            + (command is Verb { Examples: [var example, ..] } ? $", as in: {example}" : "");
    }

    // The parser helps with whatever it knows of the line.
    private static string? NoVerb(ParseResult parse, string[] arguments)
    {
        var command = parse.CommandResult.Command;
        return command.Subcommands.Count == 0 ? null
            : arguments.TakeWhile(word => !word.StartsWith('-')).ElementAtOrDefault(Path(command).Split(' ').Length - 1);
    }

    private static BadInputException NoSuchVerb(Command command, string typed)
    {
        var names = command is RootCommand ? Verbs.Names : command.Subcommands.Select(verb => verb.Name);
        return Wrong(command, $"\"{Path(command)}\" has no \"{typed}\".{NearNames.Question(typed, names)}");
    }

    private static BadInputException NoSuchOption(ParseResult parse, string typed)
    {
        var command = parse.CommandResult.Command;
        return Wrong(command, $"\"{Path(command)}\" has no {typed}.{NearNames.Question(typed, OptionsOf(command))}");
    }

    // The parser takes an option that a verb does not have for its file or its name; after a -- alone it is one.
    private static string? OptionTakenForArgument(ParseResult parse, string[] arguments) => parse.CommandResult.Children
        .OfType<ArgumentResult>().SelectMany(argument => argument.Tokens).Select(token => token.Value)
        .FirstOrDefault(text => text.StartsWith("--", StringComparison.Ordinal) && text.Length > 2
            && !arguments.SkipWhile(word => word != "--").Contains(text));

    private static IEnumerable<string> OptionsOf(Command command) =>
        command.Options.Concat([CommonOptions.Json, CommonOptions.Data, CommonOptions.Units]).Select(option => option.Name);

    // The parser speaks of its types.
    private static string Plain(ParseError error)
    {
        if (NotOfType().Match(error.Message) is not { Success: true } match)
        {
            return error.Message;
        }

        var wanted = match.Groups["type"].Value switch
        {
            "Boolean" => "true or false",
            "Int32" or "Int64" => "a whole number",
            _ => "a number",
        };
        var name = match.Groups["option"] is { Success: true } option ? option.Value
            : error.SymbolResult is ArgumentResult { Argument: var argument } ? argument.HelpName ?? argument.Name
            : "it";
        return $"{name} \"{match.Groups["typed"].Value}\" is not {wanted}";
    }

    [GeneratedRegex(@"^Cannot parse argument '(?<typed>.*?)' for (option '(?<option>[^']*)'|.*) as expected type '.*?(?<type>\w+)(\])?'\.?$")]
    private static partial Regex NotOfType();

    [GeneratedRegex("^(Required argument missing|Option '.*' is required)")]
    private static partial Regex Absent();

    private static string Path(Command command) => command.Parents.OfType<Command>().FirstOrDefault() is { } parent
        ? $"{Path(parent)} {command.Name}"
        : "chamber";

    private static int Tell(Exception problem, CommandContext surroundings, string? instead)
    {
        if (problem is OperationCanceledException)
        {
            return ExitCode.Interrupted;
        }

        var (said, next) = (MissingLibrary.Of(problem) ?? problem.Message, instead ?? (problem as BadInputException)?.Hint);
        var stop = next is not null && !said.EndsWith('.') && !said.EndsWith('?') ? "." : "";
        surroundings.Error.WriteLine($"chamber: {OneLine.Of(next is null ? said : $"{said}{stop} {next}")}");
        if (surroundings.Variable("CHAMBER_TRACE") is { Length: > 0 })
        {
            surroundings.Error.WriteLine(problem);
        }

        return problem is BadInputException or FormatException or RefusedException ? ExitCode.BadInput : ExitCode.Failed;
    }
}

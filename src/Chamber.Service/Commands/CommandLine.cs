using System.CommandLine;
using System.CommandLine.Help;
using Chamber.Core;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands;

/// <summary>The whole command line: runs one, and turns whatever goes wrong into one line and an exit code.</summary>
internal static class CommandLine
{
    public static async Task<int> Run(string[] arguments, CommandContext surroundings, CancellationToken stop = default)
    {
        Invocation.AmbientContext.Value = surroundings;
        try
        {
            // Nothing typed is a question, not a mistake.
            var parse = Parse(arguments.Length == 0 ? ["--help"] : arguments);
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
            return Tell(problem, surroundings);
        }
    }

    /// <summary>A command line as typed, without its work being done.</summary>
    /// <exception cref="BadInputException">It cannot be read; the message says the fix.</exception>
    public static ParseResult Parse(string[] arguments)
    {
        var parse = Root(arguments).Parse(arguments, new ParserConfiguration { ResponseFileTokenReplacer = null });
        return parse.Errors.Count == 0 || parse.Action is HelpAction ? parse : throw new BadInputException(FirstError(parse));
    }

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

    private static string FirstError(ParseResult parse)
    {
        var command = parse.CommandResult.Command;
        if (command.Subcommands.Count > 0 && parse.UnmatchedTokens.Count > 0)
        {
            return $"\"{Path(command)}\" has no \"{parse.UnmatchedTokens[0]}\". See: {Path(command)} --help";
        }

        return $"{parse.Errors[0].Message.TrimEnd('.')}. See: {Path(command)} --help";
    }

    private static string Path(Command command) => command.Parents.OfType<Command>().FirstOrDefault() is { } parent
        ? $"{Path(parent)} {command.Name}"
        : "chamber";

    private static int Tell(Exception problem, CommandContext surroundings)
    {
        if (problem is OperationCanceledException)
        {
            return ExitCode.Interrupted;
        }

        surroundings.Error.WriteLine(
            $"chamber: {OneLine.Of(problem is BadInputException { Hint: { } hint } ? $"{problem.Message} {hint}" : problem.Message)}");
        if (surroundings.Variable("CHAMBER_TRACE") is { Length: > 0 })
        {
            surroundings.Error.WriteLine(problem);
        }

        return problem is BadInputException or FormatException or RefusedException ? ExitCode.BadInput : ExitCode.Failed;
    }
}

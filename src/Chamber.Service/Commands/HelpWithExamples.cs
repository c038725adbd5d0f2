using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands;

/// <summary>The usual help, then the examples of the verb.</summary>
internal sealed class HelpWithExamples(HelpAction help) : SynchronousCommandLineAction
{
    public override bool ClearsParseErrors => true;

    public override int Invoke(ParseResult parseResult)
    {
        if (parseResult.CommandResult.Command is RootCommand root)
        {
            RootHelp.Write(parseResult.InvocationConfiguration.Output, root.Description ?? "");
            return ExitCode.Done;
        }

        var code = help.Invoke(parseResult);
        if (parseResult.CommandResult.Command is Verb { Examples.Count: > 0 } verb)
        {
            var output = parseResult.InvocationConfiguration.Output;
            output.WriteLine("Examples:");
            foreach (var example in verb.Examples)
            {
                output.WriteLine($"  {example}");
            }

            output.WriteLine();
        }

        return code;
    }
}

using Chamber.Service.Commands;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Tests.Commands;

/// <summary>What a command line answered.</summary>
internal sealed record Outcome(int Code, string Out, string Error);

/// <summary>Runs a command line inside the test, as the binary would with redirected output.</summary>
internal static class InProcess
{
    /// <summary>The last argument may be a clock, otherwise the real one is used.</summary>
    public static Task<Outcome> Run(params string[] arguments) => Run(TimeProvider.System, arguments);

    public static async Task<Outcome> Run(TimeProvider clock, params string[] arguments)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await CommandLine.Run(arguments, new CommandContext(output, error, clock, _ => null, IsTerminal: false));
        return new(code, output.ToString(), error.ToString());
    }
}

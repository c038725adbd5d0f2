using System.CommandLine;
using Chamber.Core.Climate;

namespace Chamber.Service.Commands.Terminal;

/// <summary>The options that every verb understands.</summary>
internal static class CommonOptions
{
    public static Option<bool> Json { get; } = new("--json")
    {
        Description = "Answer as JSON for programs (temperatures in °C, times in UTC).",
        Recursive = true,
    };

    public static Option<string?> Data { get; } = new("--data")
    {
        Description = "The data directory. Default: CHAMBER_DATA, or the usual one for your user.",
        HelpName = "DIR",
        Recursive = true,
    };

    public static Option<TemperatureScale?> Units { get; } = new("--units")
    {
        Description = "Show temperatures in C or F. Default: units in chamber.json.",
        HelpName = "C|F",
        Recursive = true,
        CustomParser = result => ScaleOf(result.Tokens[0].Value),
    };

    /// <summary>For verbs that answer from what was written down and measured.</summary>
    public static Option<string?> AsOf { get; } = new("--as-of")
    {
        Description = "Answer from what was known then: written down and received by that time. Default: now.",
        HelpName = "TIME",
    };

    private static TemperatureScale? ScaleOf(string text) => TemperatureScales.TryParse(text, out var scale)
        ? scale
        : throw new BadInputException($"--units {text}: write C or F.");
}

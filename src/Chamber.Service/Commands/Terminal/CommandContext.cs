namespace Chamber.Service.Commands.Terminal;

/// <summary>What a run of <c>chamber</c> takes from outside, so that a test can hand in its own.</summary>
/// <param name="Out">Where answers go.</param>
/// <param name="Error">Where the one line goes when something is wrong.</param>
/// <param name="Clock">The time.</param>
/// <param name="Variable">An environment variable by name; null when it is not set.</param>
/// <param name="IsTerminal">Whether <paramref name="Out"/> is a terminal that somebody reads.</param>
internal sealed record CommandContext(
    TextWriter Out,
    TextWriter Error,
    TimeProvider Clock,
    Func<string, string?> Variable,
    bool IsTerminal)
{
    /// <summary>What is typed, or sent on standard input.</summary>
    public TextReader In { get; init; } = TextReader.Null;

    /// <summary>Whether somebody types it.</summary>
    public bool IsTyped { get; init; }

    /// <summary>All environment variables, for the settings that they override.</summary>
    public IEnumerable<KeyValuePair<string, string>> Variables { get; init; } = [];

    public static CommandContext OfProcess() => new(
        Console.Out,
        Console.Error,
        TimeProvider.System,
        Environment.GetEnvironmentVariable,
        !Console.IsOutputRedirected)
    {
        In = Console.In,
        IsTyped = !Console.IsInputRedirected,
        Variables = Environment.GetEnvironmentVariables().Cast<System.Collections.DictionaryEntry>()
            .Select(pair => KeyValuePair.Create((string)pair.Key, (string?)pair.Value ?? string.Empty)),
    };
}

namespace Chamber.Service.Commands;

/// <summary>What a run of <c>chamber</c> takes from outside, so that a test can hand in its own.</summary>
/// <param name="Out">Where answers go.</param>
/// <param name="Error">Where the one line goes when something is wrong.</param>
/// <param name="Clock">The time.</param>
/// <param name="Variable">An environment variable by name; null when it is not set.</param>
/// <param name="IsTerminal">Whether <paramref name="Out"/> is a terminal that somebody reads.</param>
internal sealed record Surroundings(
    TextWriter Out,
    TextWriter Error,
    TimeProvider Clock,
    Func<string, string?> Variable,
    bool IsTerminal)
{
    public static Surroundings OfProcess() => new(
        Console.Out,
        Console.Error,
        TimeProvider.System,
        Environment.GetEnvironmentVariable,
        !Console.IsOutputRedirected);
}

namespace Chamber.Service.Commands.Terminal;

/// <summary>What the shell is given.</summary>
internal static class ExitCode
{
    public const int Done = 0;

    /// <summary>The input was good and it still could not be done: disk full, broker away, a check that failed.</summary>
    public const int Failed = 1;

    /// <summary>The input cannot be used; one line on standard error says why.</summary>
    public const int BadInput = 2;

    /// <summary>Stopped by Ctrl-C (128 + SIGINT).</summary>
    public const int Interrupted = 130;
}

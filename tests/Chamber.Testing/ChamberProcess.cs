namespace Chamber.Testing;

/// <summary>The built program, as a grower runs it.</summary>
public static class ChamberProcess
{
    /// <summary>The program built in the same configuration as the running test.</summary>
    public static string Program { get; } = SourceTree.Path("artifacts", "bin", "Chamber.Service", SourceTree.Configuration, "chamber");

    /// <summary>Starts it and leaves it running; the caller disposes of it.</summary>
    public static RunningProgram Start(params string[] arguments) => RunningProgram.Start(Program, arguments, environment: Plain);

    /// <summary>Starts it with further variables.</summary>
    public static RunningProgram Start(IReadOnlyDictionary<string, string?> variables, params string[] arguments) =>
        RunningProgram.Start(Program, arguments, environment: Plain.Where(pair => !variables.ContainsKey(pair.Key)).Concat(variables)
            .ToDictionary());

    /// <summary>Starts it where it sees the disk.</summary>
    public static RunningProgram Start(SmallDisk disk, params string[] arguments) => disk.Start(Program, arguments, Plain);

    /// <summary>Runs it to its end.</summary>
    public static Task<ProgramResult> Run(params string[] arguments) => RunningProgram.Run(Program, arguments, environment: Plain);

    // What the person running the tests has set for their own home must not reach a test.
    private static readonly Dictionary<string, string?> Plain = new()
    {
        ["CHAMBER_DATA"] = null,
        ["NO_COLOR"] = null,
        ["NOTIFY_SOCKET"] = null,
        ["JOURNAL_STREAM"] = null,
        ["TZ"] = "UTC",
    };
}

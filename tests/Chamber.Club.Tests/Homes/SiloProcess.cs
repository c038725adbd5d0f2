using System.Globalization;
using Chamber.Testing;

namespace Chamber.Club.Tests.Homes;

/// <summary>The program of the club as real processes.</summary>
internal static class SiloProcess
{
    public static string Club => SourceTree.Path("artifacts", "bin", "Chamber.Club", SourceTree.Configuration, "chamber-club");

    public static Task<RunningProgram> Silo(string database, params string[] more) => Silo(database, null, more);

    /// <summary>The same by a program of another version; null for this one.</summary>
    public static async Task<RunningProgram> Silo(string database, string? program, string[] more)
    {
        string[] ports = more.Contains("--silo-port") ? ["--gateway-port", Port()] : ["--silo-port", Port(), "--gateway-port", Port()];
        var silo = RunningProgram.Start(program ?? Club, ["silo", "--database", database, .. ports, .. more]);
        await silo.Line("watches homes");
        return silo;
    }

    public static Task<RunningProgram> Intake(string database, Mosquitto broker, params string[] more) =>
        Intake(database, broker, null, more);

    /// <summary>The same by a program of another version; null for this one.</summary>
    public static async Task<RunningProgram> Intake(string database, Mosquitto broker, string? program, string[] more)
    {
        var intake = RunningProgram.Start(program ?? Club, ["intake", "--database", database, "--slots", "1", "--broker-port",
            broker.Port.ToString(CultureInfo.InvariantCulture), .. more]);
        await intake.Line("receives from the broker");
        return intake;
    }

    public static async Task<string> Show(string database, string home) =>
        (await RunningProgram.Run(Club, ["home", "show", home, "--database", database])).Succeeded();

    private static string Port() => FreePort.Next().ToString(CultureInfo.InvariantCulture);
}

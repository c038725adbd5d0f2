using System.Diagnostics;

namespace Chamber.Club.Demo;

/// <summary>Programs that the demo calls. Each is in a session of its own, so that Ctrl-C reaches the demo alone, which then stops them in
/// order.</summary>
internal static class DemoProgram
{
    private const string Packages = "Debian and its kin have both: apt install postgresql mosquitto";

    /// <exception cref="IOException">It is not installed.</exception>
    public static Process Start(params string[] command)
    {
        Require(command[0]);
        return Process.Start(new ProcessStartInfo("setsid", command) { RedirectStandardError = true, RedirectStandardOutput = true })!;
    }

    /// <summary>Runs a program to its end.</summary>
    /// <exception cref="IOException">It is not installed, or it failed: with what it said.</exception>
    public static async Task RunAsync(params string[] command)
    {
        using var process = Start(command);
        var errors = process.StandardError.ReadToEndAsync();
        await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            throw new IOException($"{string.Join(' ', command)}: {(await errors).Trim()}");
        }
    }

    /// <exception cref="IOException">It is not installed.</exception>
    public static void Require(string program)
    {
        var folders = program.Contains('/', StringComparison.Ordinal) ? [""]
            : (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':');
        if (!folders.Any(folder => File.Exists(Path.Combine(folder, program))))
        {
            throw new IOException(
                $"The demo needs {Path.GetFileName(program)}, and PostgreSQL 15 or later and Mosquitto in all. {Packages}");
        }
    }
}

using System.Globalization;
using Chamber.Testing;

namespace Chamber.Shipping.Tests.Rig;

/// <summary>A machine of its own on this one, whose first process is systemd (own-machine.sh): what is installed in it is gone with it, its
/// ports and processes are its own.</summary>
public sealed class OwnMachine : IAsyncLifetime
{
    private static readonly string Script = SourceTree.Path("tests", "Chamber.Shipping.Tests", "Rig", "own-machine.sh");

    private readonly TempFolder folder = new();
    private readonly string name = string.Create(CultureInfo.InvariantCulture, $"chamber-test-{Environment.ProcessId}");
    private RunningProgram? machine;
    private string first = string.Empty;

    /// <summary>Why there is none; null where it runs.</summary>
    public string? WhyNot { get; private set; }

    public async ValueTask InitializeAsync()
    {
        WhyNot = await Reason();
        if (WhyNot is not null)
        {
            return;
        }

        machine = RunningProgram.Start(Script, [folder.Path, name]);

        // Before it becomes unshare the script has short-lived children of its own.
        var itself = $"/proc/{machine.Id}";
        first = await Wait.Until("the first process of the machine", async () =>
            (await File.ReadAllTextAsync($"{itself}/comm")).Trim() == "unshare"
            && (await File.ReadAllTextAsync($"{itself}/task/{machine.Id}/children")).Trim() is { Length: > 0 } child ? child : null);
        await Wait.Until("systemd to be up", async () =>
            (await Run("systemctl is-system-running")).Output.Trim() is "running" or "degraded" ? this : null);
    }

    /// <summary>Runs a line of a shell in it, as root.</summary>
    public Task<ProgramResult> Run(string line) => RunningProgram.Run(
        "nsenter", ["--target", first, "--mount", "--uts", "--ipc", "--net", "--pid", "--cgroup", "--", "sh", "-c", line]);

    /// <summary>What a line prints that must succeed.</summary>
    public async Task<string> Ask(string line) => (await Run(line)).Succeeded().Trim();

    /// <summary>Asks again and again until a line succeeds, and gives what it printed then.</summary>
    public Task<string> Until(string what, string line) =>
        Wait.Until(what, async () => await Run(line) is { ExitCode: 0 } result ? result.Output.Trim() : null);

    public async ValueTask DisposeAsync()
    {
        if (machine is not null)
        {
            await machine.DisposeAsync();

            // Its processes end with the first; the group is empty a moment later.
            await Wait.Until("the processes of the machine to end", async () =>
                (await RunningProgram.Run(Script, ["end", name])).ExitCode == 0 ? this : null);
        }

        folder.Dispose();
    }

    private static async Task<string?> Reason()
    {
        if (!Environment.IsPrivilegedProcess)
        {
            return "only root may be the first process of a machine";
        }

        if (!Directory.Exists("/sys/fs/cgroup/systemd") || !Directory.Exists("/sys/fs/cgroup/memory"))
        {
            return "groups of processes are not laid out as /sys/fs/cgroup/systemd, memory and pids here";
        }

        var tried = await RunningProgram.Run("unshare", ["--fork", "--pid", "--mount", "--net", "--cgroup", "--", "mount", "-t", "tmpfs",
            "none", "/mnt"]);
        return tried.ExitCode == 0 ? null : $"no namespaces are to be had: {tried.Errors.Trim()}";
    }
}

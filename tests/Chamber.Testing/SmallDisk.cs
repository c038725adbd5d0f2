namespace Chamber.Testing;

/// <summary>
/// A real disk of a few megabytes (tmpfs) that only the programs see which are started on it, at the path of a folder. Root makes it in
/// its own mount namespace; anybody else in a user namespace, which Debian allows. A machine that allows neither fails the test
/// with what it said.
/// </summary>
public sealed class SmallDisk : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly RunningProgram holder;

    private SmallDisk(int megabytes) => holder = RunningProgram.Start(
        "unshare",
        [Environment.IsPrivilegedProcess ? "--mount" : "--map-root-user", "--mount", "sh", "-c",
            $"mount -t tmpfs -o size={megabytes}m chamber-test {folder.Path} && echo mounted && exec sleep infinity"]);

    /// <summary>Where the disk is for programs that are started on it.</summary>
    public string Path => folder.Path;

    public static async Task<SmallDisk> Make(int megabytes)
    {
        var disk = new SmallDisk(megabytes);
        await disk.holder.Line("mounted");
        return disk;
    }

    /// <summary>Where a file on it is for everybody else.</summary>
    public string File(string name) => $"/proc/{holder.Id}/root{folder.File(name)}";

    /// <summary>Starts a program that sees the disk. It has the number of the program itself, so that signals reach it.</summary>
    public RunningProgram Start(string program, IEnumerable<string> arguments, IReadOnlyDictionary<string, string?>? environment = null) =>
        RunningProgram.Start(
        "nsenter",
        ["--target", $"{holder.Id}", "--mount", .. Environment.IsPrivilegedProcess ? Array.Empty<string>()
            : ["--user", "--preserve-credentials"], program, .. arguments],
        environment: environment);

    /// <summary>From now on nothing can be written on it, whoever asks, as on a disk that a unit of systemd does not open.</summary>
    public async Task MakeReadOnly()
    {
        await using var remount = Start("mount", ["-o", "remount,ro", Path]);
        (await remount.End()).Succeeded();
    }

    /// <summary>Takes up all room that is left, to the last byte.</summary>
    public void Fill()
    {
        using var ballast = new FileStream(File("ballast"), FileMode.Append, FileAccess.Write, FileShare.None, bufferSize: 0);
        var bytes = new byte[64 * 1024];
        for (var length = bytes.Length; length > 0;)
        {
            try
            {
                ballast.Write(bytes, 0, length);
            }
            catch (IOException)
            {
                length /= 2;
            }
        }
    }

    /// <summary>Gives back what <see cref="Fill"/> took.</summary>
    public void Free() => System.IO.File.Delete(File("ballast"));

    public async ValueTask DisposeAsync()
    {
        await holder.DisposeAsync();
        folder.Dispose();
    }
}

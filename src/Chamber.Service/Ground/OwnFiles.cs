using System.Runtime.InteropServices;

namespace Chamber.Service.Ground;

/// <summary>Who may read what Chamber writes: its owner, whoever started it and however.</summary>
internal static class OwnFiles
{
    // 077: nothing for the group, nothing for others.
    private const uint NothingForOthers = 0x3F;

    /// <summary>From now on what this process makes is closed to others: directories 0700, files 0600.</summary>
    public static void CloseToOthers()
    {
        if (!OperatingSystem.IsWindows())
        {
            _ = umask(NothingForOthers);
        }
    }

    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern uint umask(uint mask);
}

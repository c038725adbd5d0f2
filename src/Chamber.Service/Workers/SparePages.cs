using System.Globalization;
using System.Runtime.InteropServices;

namespace Chamber.Service.Workers;

/// <summary>
/// Memory that this process holds and does not use, given back to Linux. Elsewhere, and where the kernel or the C library lacks it,
/// nothing happens.
/// </summary>
internal static class SparePages
{
    // madvise(2), MADV_PAGEOUT, since Linux 5.4: what is unchanged is read from its file again when it is used; nothing is lost.
    private const int PageOut = 21;

    /// <summary>What the C library keeps of memory that was freed.</summary>
    public static void OfHeap()
    {
        if (OperatingSystem.IsLinux())
        {
            Tried(() => _ = Trim(0));
        }
    }

    /// <summary>Pages of the program's files: what is used again comes back one by one.</summary>
    public static void OfFiles()
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        Tried(() =>
        {
            foreach (var line in File.ReadLines("/proc/self/maps"))
            {
                // From and to, rights, offset, device, inode, path. The database's shared pages are not the program's.
                if (line.Split(' ', 6, StringSplitOptions.RemoveEmptyEntries) is [var range, [_, _, _, 'p'], _, _, _, ['/', ..]]
                    && range.Split('-') is [var from, var to])
                {
                    var start = nint.Parse(from, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
                    _ = Advise(start, nint.Parse(to, NumberStyles.HexNumber, CultureInfo.InvariantCulture) - start, PageOut);
                }
            }
        });
    }

    private static void Tried(Action give)
    {
        try
        {
            give();
        }
        catch (Exception problem) when (problem is EntryPointNotFoundException or DllNotFoundException or IOException
            or UnauthorizedAccessException)
        {
            // It stays resident, and the machine takes it when it needs it.
        }
    }

    [DllImport("libc", EntryPoint = "malloc_trim")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Trim(nuint pad);

    [DllImport("libc", EntryPoint = "madvise")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Advise(nint address, nint length, int advice);
}

using System.Runtime.InteropServices;
using NodaTime;

namespace Chamber.Service.Checks;

/// <summary>Looks at the clock: a wrong one puts every reading at the wrong time.</summary>
internal static class ClockFindings
{
    // adjtimex(2): the clock is not kept by a time service.
    private const int Unsynchronized = 5;

    // sizeof(struct timex) is 208 on the machines that Chamber is built for.
    private const int RoomForTimex = 256;

    /// <param name="newest">When the last reading arrived; null when none did.</param>
    /// <param name="now">The time by this machine.</param>
    /// <param name="zone">The home's zone.</param>
    /// <param name="show">Shows a time to a person.</param>
    public static Finding Clock(Instant? newest, Instant now, DateTimeZone zone, Func<Instant, string> show) => now < KnownTime.Earliest
        ? Finding.Wrong("clock", $"this machine's clock was never set: it says {show(now)}",
            "set it, preferably with a time service; until then the service counts time on from the last one it knows")
        : newest > now
        ? Finding.Wrong("clock", $"this machine's clock ({show(now)}) is behind the arrival of the last reading ({show(newest.Value)})",
            "set it, preferably with a time service")
        : Finding.Fine("clock", $"{show(now)} in {zone.Id}");

    /// <summary>Whether a time service keeps the clock, as the kernel knows it; null where it does not say.</summary>
    public static Finding? Kept() => !OperatingSystem.IsLinux() ? null : Kernel() switch
    {
        < 0 => null,
        Unsynchronized => Finding.Note("time service", "none keeps this machine's clock",
            "apt-get install systemd-timesyncd (or chrony); a clock that drifts dates readings wrongly"),
        _ => Finding.Fine("time service", "keeps this machine's clock"),
    };

    private static int Kernel()
    {
        // All zero asks and changes nothing.
        var timex = new byte[RoomForTimex];
        return adjtimex(timex);
    }

    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int adjtimex(byte[] timex);
}

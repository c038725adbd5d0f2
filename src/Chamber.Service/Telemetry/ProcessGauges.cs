using System.Diagnostics;
using System.Diagnostics.Metrics;

namespace Chamber.Service.Telemetry;

/// <summary>What any scraper asks of a process, by the names that exporters for Prometheus share, and which Chamber it is.</summary>
internal static class ProcessGauges
{
    private const string OpenFiles = "/proc/self/fd";

    public static void Add(Meter meter)
    {
        meter.CreateObservableGauge("chamber.build.info", () => new Measurement<int>(1,
            new KeyValuePair<string, object?>("version", ProgramVersion.Text),
            new KeyValuePair<string, object?>("runtime", Environment.Version.ToString())), null, "Always 1: which Chamber this is.");
        meter.CreateObservableCounter("process.cpu", () => Of(process => process.TotalProcessorTime.TotalSeconds), "s",
            "Processor time, since the start.");
        meter.CreateObservableGauge("process.resident_memory", () => Of(process => process.WorkingSet64), "By",
            "Memory that is resident, files of the program included.");
        meter.CreateObservableGauge("process.virtual_memory", () => Of(process => process.VirtualMemorySize64), "By",
            "Addresses that are reserved.");
        meter.CreateObservableGauge("process.threads", () => Of(process => process.Threads.Count), null, "Threads.");
        meter.CreateObservableGauge("process.start_time",
            () => Of(process => new DateTimeOffset(process.StartTime).ToUnixTimeMilliseconds() / 1000.0), "s",
            "When it started, as seconds since 1970.");
        if (Directory.Exists(OpenFiles))
        {
            meter.CreateObservableGauge("process.open_fds", () => Directory.EnumerateFileSystemEntries(OpenFiles).Count(), null,
                "Files and sockets that are open.");
        }
    }

    private static T Of<T>(Func<Process, T> ask)
    {
        using var process = Process.GetCurrentProcess();
        return ask(process);
    }
}

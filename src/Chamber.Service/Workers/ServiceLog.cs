using System.Globalization;
using Chamber.Service.Configuration;
using Serilog;
using Serilog.Events;
using Serilog.Formatting.Compact;

namespace Chamber.Service.Workers;

/// <summary>
/// Where the service's log goes: the console for people (or as JSON for programs), a file for each day as JSON with the message in
/// words, and, where the console is the journal of systemd, lines that begin with their priority.
/// </summary>
internal static class ServiceLog
{
    private const int DaysKept = 14;
    private const int FileSize = 10_000_000;
    private const string Line = "{Timestamp:HH:mm:ss} {Level:u3} {Message:lj}{NewLine}{Exception}";

    public static Serilog.Core.Logger Make(DataDirectory data, bool json, Func<string, string?> variable)
    {
        var logger = new LoggerConfiguration()
            .MinimumLevel.Information()
            .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)

            // Its lines about each request would drown ours; what went wrong is reported by the mirror itself.
            .MinimumLevel.Override("System.Net.Http", LogEventLevel.Warning)

            // The keys of cookies lie in the data directory, closed to others, as everything there does; a warning at the first start helps
            // nobody.
            .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)

            // A start that fails is reported in one line by the verb.
            .MinimumLevel.Override("Microsoft.Extensions.Hosting", LogEventLevel.Fatal)
            .WriteTo.Logger(file => file.Filter.ByExcluding(IsForConsoleOnly).WriteTo.File(
                new RenderedCompactJsonFormatter(),
                Path.Combine(data.Logs, "chamber-.log"),
                rollingInterval: RollingInterval.Day,
                retainedFileCountLimit: DaysKept,
                fileSizeLimitBytes: FileSize,
                rollOnFileSizeLimit: true));
        return ToConsole(logger, json, variable).CreateLogger();
    }

    // A file is kept for weeks and goes into a report; the code lets in whoever reads it.
    private static bool IsForConsoleOnly(LogEvent line) =>
        line.Properties.TryGetValue("EventId", out var value) && value is StructureValue { Properties: var parts }
        && parts.Any(part => part is { Name: "Id", Value: ScalarValue { Value: Ground.Log.CodeEvent } });

    private static LoggerConfiguration ToConsole(LoggerConfiguration logger, bool json, Func<string, string?> variable) => json
        ? logger.WriteTo.Console(new CompactJsonFormatter())
        : SystemJournal.IsConsole(variable)
            ? logger.WriteTo.Console(new JournalFormatter())
            : logger.WriteTo.Console(formatProvider: CultureInfo.InvariantCulture, outputTemplate: Line);
}

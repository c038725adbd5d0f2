using System.Globalization;
using Serilog.Events;
using Serilog.Formatting;
using Serilog.Formatting.Display;

namespace Chamber.Service.Workers;

/// <summary>
/// Lines for the journal of the system: each begins with its priority in angle brackets, as sd-daemon(3) says, so that journald and
/// syslog can tell a hazard from a remark. The time is the journal's own.
/// </summary>
internal sealed class JournalFormatter : ITextFormatter
{
    // Texts in a message without quotation marks around them.
    private static readonly MessageTemplateTextFormatter Message = new("{Message:lj}", CultureInfo.InvariantCulture);

    public void Format(LogEvent logEvent, TextWriter output)
    {
        using var message = new StringWriter(CultureInfo.InvariantCulture);
        Message.Format(logEvent, message);
        var text = message + (logEvent.Exception is { } problem ? "\n" + problem : "");
        foreach (var line in text.ReplaceLineEndings("\n").Split('\n'))
        {
            output.Write($"<{Priority(logEvent.Level)}>");
            output.Write(line);
            output.Write('\n');
        }
    }

    // RFC 5424, table 2.
    private static int Priority(LogEventLevel level) => level switch
    {
        LogEventLevel.Fatal => 2,
        LogEventLevel.Error => 3,
        LogEventLevel.Warning => 4,
        LogEventLevel.Information => 6,
        _ => 7,
    };
}

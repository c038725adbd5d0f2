using System.CommandLine;
using System.Globalization;
using System.Text;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Tests.Commands;

/// <summary>The command line as a manual page, man(7), made from the same verbs as docs/commands.md.</summary>
internal static class ManPage
{
    private const string Begin = """
        .\" Made from the program by the test ManPageTests; don't edit by hand.
        .TH CHAMBER 1 "" "Chamber" "User Commands"
        .SH NAME
        chamber \- finds the best warm spot for each seed and says when it will be up
        .SH SYNOPSIS
        .B chamber
        .I VERB
        [\fIOPTION\fR]... [\fIARGUMENT\fR]...
        .SH DESCRIPTION
        Chamber reads temperature, humidity and moisture over MQTT or from a thermometer that somebody reads, scores the warm spots of a home for a crop, adds up warm-hours to forecast emergence, raises alerts, and keeps batches and seed lots.
        It never switches anything.
        .PP
        A temperature is written with its unit (22.5C, 68F), a length of time too (90 min, 2 h, 3 d), a share as 0.8 or 80%.
        Times are RFC 3339 or local to the home.
        .B chamber
        .I VERB
        .B \-\-help
        has more on each verb.
        .SH OPTIONS
        Every verb takes these.

        """;

    private const string End = """
        .SH EXIT STATUS
        .TP
        .B 0
        It was done.
        .TP
        .B 1
        The input was good and it could not be done: disk full, broker away, a check that failed.
        .TP
        .B 2
        The input cannot be used; one line on standard error gives the fix.
        .TP
        .B 130
        It was stopped by Ctrl\-C.
        .SH ENVIRONMENT
        .TP
        .B CHAMBER_DATA
        The data directory, unless
        .B \-\-data
        names it.
        .TP
        .B CHAMBER_\fIKEY\fB__\fIKEY\fR
        A setting instead of that in chamber.json: CHAMBER_PAGE__PORT stands for page.port.
        .SH FILES
        .TP
        .I chamber.json
        The settings, in the data directory; /usr/share/doc/chamber/chamber.jsonc has all of them with their defaults.
        .TP
        .I /var/lib/chamber
        The data directory of the service that systemd runs.
        .SH SEE ALSO
        /usr/share/doc/chamber/README.md

        """;

    public static string Write()
    {
        var page = new StringBuilder(Begin);
        foreach (var option in (Option[])[CommonOptions.Json, CommonOptions.Data, CommonOptions.Units])
        {
            Entry(page, Bold(option.Name) + Value(option.HelpName), option.Description!);
        }

        page.Append(".SH VERBS\n");
        foreach (var verb in CommandReference.Every())
        {
            page.Append(CultureInfo.InvariantCulture, $".SS {Text($"chamber {CommandReference.Path(verb)}")}\n{Line(verb.Description!)}\n");
            page.Append(CultureInfo.InvariantCulture, $".PP\n.EX\n{Line(verb.Examples[0])}\n.EE\n");
            foreach (var argument in verb.Arguments)
            {
                Entry(page, $"\\fI{Text(argument.HelpName ?? argument.Name)}\\fR", argument.Description!);
            }

            foreach (var option in verb.Options)
            {
                Entry(page, Bold(option.Name) + Value(option.HelpName), option.Description! + (option.Required ? " Required." : ""));
            }
        }

        return page.Append(End).ToString();
    }

    private static void Entry(StringBuilder page, string head, string text) =>
        page.Append(CultureInfo.InvariantCulture, $".TP\n{head}\n{Line(text)}\n");

    private static string Bold(string text) => $"\\fB{Text(text)}\\fR";

    private static string Value(string? name) => name is null ? "" : $" \\fI{Text(name)}\\fR";

    // A line that begins with a dot or an apostrophe would be a request.
    private static string Line(string text) => Text(text) is var line && line[0] is '.' or '\'' ? "\\&" + Text(text) : Text(text);

    // groff_char(7): a hyphen that is typed is a minus, so that it can be searched for and copied.
    private static string Text(string text) => text.Replace("\\", "\\e", StringComparison.Ordinal)
        .Replace("-", "\\-", StringComparison.Ordinal).ReplaceLineEndings(" ");
}

using System.Globalization;
using System.Text;

namespace Chamber.Testing;

/// <summary>
/// What a person sees of a program that runs on a terminal: a real pseudo-terminal by <c>script</c> (Debian's bsdutils), and a screen that
/// understands as much of ECMA-48 as progress bars use: carriage return, cursor up, erasing of lines; colours are passed over.
/// </summary>
public sealed class Terminal
{
    private readonly List<StringBuilder> rows = [new()];
    private readonly List<string> frames = [];
    private readonly int columns;
    private int row;
    private int column;

    private Terminal(int columns) => this.columns = columns;

    /// <summary>How the program ended.</summary>
    public int ExitCode { get; private init; }

    /// <summary>The screen each time before something of it was drawn over.</summary>
    public IReadOnlyList<string> Frames => frames;

    /// <summary>The screen at the end.</summary>
    public string Screen => string.Join('\n', rows.Select(line => line.ToString().TrimEnd())).TrimEnd('\n');

    /// <summary>Whether the cursor can be seen at the end.</summary>
    public bool HasCursor { get; private set; } = true;

    /// <summary>Lines that ran over the right edge while something was drawn that would be drawn over: they leave rests behind.</summary>
    public int Wrapped { get; private set; }

    /// <summary>Runs a program on a terminal so many columns wide, to its end.</summary>
    public static async Task<Terminal> Run(int columns, string program, params IEnumerable<string> arguments)
    {
        using var folder = new TempFolder();
        var line = string.Join(' ', arguments.Prepend(program).Select(word => $"'{word}'"));
        var result = await RunningProgram.Run(
            "script",
            ["--quiet", "--return", "--flush", "--command",
                $"stty rows 24 cols {columns.ToString(CultureInfo.InvariantCulture)}; exec {line}", folder.File("typescript")],
            environment: new Dictionary<string, string?> { ["TERM"] = "xterm-256color", ["NO_COLOR"] = null, ["CHAMBER_DATA"] = null,
                ["TZ"] = "UTC", ["SHELL"] = "/bin/sh" });
        var terminal = new Terminal(columns) { ExitCode = result.ExitCode };

        // The first and the last line are the recorder's own.
        var text = await File.ReadAllTextAsync(folder.File("typescript"));
        terminal.Show(
            text[(text.IndexOf('\n', StringComparison.Ordinal) + 1)..text.LastIndexOf("\nScript done", StringComparison.Ordinal)]);
        return terminal;
    }

    private void Show(string text)
    {
        for (var at = 0; at < text.Length; at++)
        {
            switch (text[at])
            {
                case '\r':
                    column = 0;
                    break;
                case '\n':
                    NextRow();
                    break;
                case '\u001b' when at + 1 < text.Length && text[at + 1] == '[':
                    var end = at + 2;
                    while (text[end] is (>= '0' and <= '9') or ';' or '?')
                    {
                        end++;
                    }

                    Control(text[end], text[(at + 2)..end]);
                    at = end;
                    break;
                case '\u001b':
                    at++;
                    break;
                default:
                    Put(text[at]);
                    break;
            }
        }
    }

    private void Control(char kind, string parameters)
    {
        switch (kind)
        {
            case 'A':
                frames.Add(Screen);
                row = Math.Max(0, row - Math.Max(1, int.Parse("0" + parameters, CultureInfo.InvariantCulture)));
                break;
            case 'K':
                rows[row].Clear();
                break;
            case 'h' or 'l' when parameters == "?25":
                HasCursor = kind == 'h';
                break;
        }
    }

    private void Put(char letter)
    {
        if (column == columns)
        {
            column = 0;
            NextRow();
            Wrapped += HasCursor ? 0 : 1;
        }

        var line = rows[row];
        line.Append(' ', Math.Max(0, column + 1 - line.Length));
        line[column++] = letter;
    }

    private void NextRow()
    {
        if (++row == rows.Count)
        {
            rows.Add(new());
        }
    }
}

using Chamber.Core.Climate;
using Spectre.Console;

namespace Chamber.Service.Commands.Terminal;

/// <summary>
/// Words and tables for people. Colours and bold only on a terminal, and never when NO_COLOR is set; then the same text
/// comes out plain, so nothing is said by colour alone.
/// </summary>
internal sealed class Screen
{
    private const int WidthWhenRedirected = 120;
    private const int LastColumnMin = 24;

    // A cell in which there is nothing to say.
    private const string Nothing = "-";
    private readonly IAnsiConsole console;

    private Screen(IAnsiConsole console, TemperatureScale scale, bool isTerminal)
    {
        this.console = console;
        Scale = scale;
        IsTerminal = isTerminal;
    }

    public TemperatureScale Scale { get; }

    public bool IsTerminal { get; }

    /// <summary>For what only a terminal can show: progress bars, prompts.</summary>
    public IAnsiConsole Console => console;

    public static Screen On(CommandContext context, TemperatureScale scale)
    {
        var colours = context.IsTerminal && string.IsNullOrEmpty(context.Variable("NO_COLOR"));
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = colours ? AnsiSupport.Detect : AnsiSupport.No,
            ColorSystem = colours ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = context.IsTerminal ? InteractionSupport.Detect : InteractionSupport.No,
            Out = new AnsiConsoleOutput(context.Out),
        });
        if (!context.IsTerminal)
        {
            console.Profile.Width = int.TryParse(context.Variable("COLUMNS"), out var columns) && columns is >= 40 and <= 400
                ? columns : WidthWhenRedirected;
            console.Profile.Capabilities.Unicode = true;
        }

        return new(console, scale, context.IsTerminal);
    }

    /// <summary>A line of plain text.</summary>
    public void Say(string line = "") => console.WriteLine(line);

    /// <summary>A text of many lines whose breaks are its own.</summary>
    public void AsItIs(string text) => console.Profile.Out.Writer.WriteLine(text);

    /// <summary>The answer itself, which stands out from its evidence.</summary>
    public void Headline(string line) => console.WriteLine(line, new Style(decoration: Decoration.Bold));

    /// <summary>Evidence and footnotes, less loud.</summary>
    public void Aside(string line) => console.WriteLine(line, new Style(decoration: Decoration.Dim));

    /// <summary>Something that wants a hand, or may do harm.</summary>
    public void Warn(string line) => console.WriteLine(line, new Style(foreground: Color.Yellow));

    public string Show(Temperature temperature) => Scale.Show(temperature);

    public string Show(TemperatureBand band) => Scale.Show(band);

    /// <summary>
    /// A table without rules. A heading that starts with <c>&gt;</c> makes a column of right-aligned numbers; the last
    /// column takes the room that is left and wraps.
    /// </summary>
    /// <remarks>Where the columns would leave the last one too little, each row becomes a line of headings and values: no word is
    /// broken.</remarks>
    public void Table(IReadOnlyList<string> headings, IEnumerable<IReadOnlyList<string>> rows)
    {
        var all = rows.ToList();
        if (IsTooWide(headings, all))
        {
            Records(headings, all);
            return;
        }

        var table = new Table { Border = TableBorder.None, ShowHeaders = headings.Any(heading => heading.Length > 0), Expand = false };
        for (var i = 0; i < headings.Count; i++)
        {
            table.AddColumn(Column(headings[i], last: i == headings.Count - 1));
        }

        foreach (var row in all)
        {
            table.AddRow(row.Select(cell => new Text(cell)));
        }

        console.Write(table);
    }

    // The last column wraps, but needs its longest word, and some room to be read with ease.
    private bool IsTooWide(IReadOnlyList<string> headings, List<IReadOnlyList<string>> rows)
    {
        int Widest(int column) => rows.Select(row => row[column].GetCellWidth()).Append(Plain(headings[column]).GetCellWidth()).Max();
        var last = headings.Count - 1;
        var longest = rows.Select(row => row[last]).Append(Plain(headings[last])).SelectMany(cell => cell.Split(' ', '\n'))
            .Select(word => word.GetCellWidth()).Max();
        var needed = Math.Max(longest, Math.Min(LastColumnMin, Widest(last)));
        return Enumerable.Range(0, last).Sum(column => Widest(column) + 2) + needed > console.Profile.Width;
    }

    private void Records(IReadOnlyList<string> headings, List<IReadOnlyList<string>> rows)
    {
        foreach (var row in rows)
        {
            console.WriteLine(row[0], new Style(decoration: Decoration.Bold));
            var told = Enumerable.Range(1, headings.Count - 1).Where(column => row[column] is not ("" or Nothing))
                .Select(column => $"{Plain(headings[column])}: {row[column]}");
            console.Write(new Padder(new Text(string.Join(" · ", told)), new Padding(2, 0, 0, 0)));
        }
    }

    private static string Plain(string heading) => heading.TrimStart('>');

    /// <summary>Names and values, one a line; the values wrap.</summary>
    public void Facts(IEnumerable<(string Name, string Value)> facts)
    {
        var table = new Table { Border = TableBorder.None, ShowHeaders = false, Expand = false };
        table.AddColumn(Column(string.Empty, last: false)).AddColumn(Column(string.Empty, last: true));
        foreach (var (name, value) in facts)
        {
            table.AddRow(new Text(name), new Text(value));
        }

        console.Write(table);
    }

    /// <summary>Does what takes long: behind a bar on a terminal, in silence elsewhere.</summary>
    /// <param name="name">What is done.</param>
    /// <param name="work">Is handed what it tells how much is done, 0 to 1.</param>
    public async Task ProgressAsync(string name, Func<Action<double>, Task> work)
    {
        if (console.Profile.Capabilities.Interactive)
        {
            await console.Progress().StartAsync(async context =>
            {
                var task = context.AddTask(name, maxValue: 1);
                await work(done => task.Value = done);
            });
        }
        else
        {
            await work(static _ => { });
        }
    }

    private static TableColumn Column(string heading, bool last)
    {
        var right = heading.StartsWith('>');
        var column = new TableColumn(new Text(right ? heading[1..] : heading, new Style(decoration: Decoration.Bold)))
        {
            Alignment = right ? Justify.Right : Justify.Left,
            NoWrap = !last,
        };
        return column.Padding(0, 0, last ? 0 : 2, 0);
    }
}

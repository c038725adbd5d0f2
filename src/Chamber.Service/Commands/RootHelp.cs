namespace Chamber.Service.Commands;

/// <summary>What <c>chamber</c> says when nothing is typed: where to start, and the verbs by what they are about.</summary>
internal static class RootHelp
{
    private const int Width = 80;

    private static readonly (string Line, string What)[] Start =
    [
        ("chamber demo", "everything on a simulated home; nothing of yours is touched"),
        ("chamber spot add NAME", "a warm spot of yours; the answer says what comes next"),
        ("chamber help VERB", "what a verb does, with examples"),
    ];

    public static void Write(TextWriter output, string purpose)
    {
        output.WriteLine(purpose);
        output.WriteLine();
        output.WriteLine("Start here:");
        Table(output, Start);
        foreach (var (room, verbs) in Verbs.Rooms)
        {
            output.WriteLine();
            output.WriteLine($"{room}:");
            Table(output, [.. verbs.Select(name => (name, Verbs.Of(name).Description ?? ""))]);
        }

        output.WriteLine();
        output.WriteLine("Every verb also takes --json for programs, --data DIR and --units C|F.");
    }

    private static void Table(TextWriter output, IReadOnlyList<(string Name, string What)> rows)
    {
        var column = rows.Max(row => row.Name.Length) + 4;
        foreach (var (name, what) in rows)
        {
            var lines = Wrapped(what, Width - column).ToList();
            output.WriteLine($"  {name.PadRight(column - 2)}{lines[0]}");
            foreach (var line in lines.Skip(1))
            {
                output.WriteLine(new string(' ', column) + line);
            }
        }
    }

    private static IEnumerable<string> Wrapped(string text, int width)
    {
        var line = "";
        foreach (var word in text.Split(' '))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > width)
            {
                yield return line;
                line = "";
            }

            line = line.Length == 0 ? word : $"{line} {word}";
        }

        yield return line;
    }
}

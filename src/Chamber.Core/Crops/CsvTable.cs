using System.Globalization;
using System.Reflection;

namespace Chamber.Core.Crops;

/// <summary>A table of RFC 4180 text with a header line, as shipped inside this assembly.</summary>
internal sealed class CsvTable
{
    private readonly Dictionary<string, int> columns;

    private CsvTable(List<string[]> lines)
    {
        columns = lines[0].Select((name, index) => (name, index)).ToDictionary(pair => pair.name, pair => pair.index);
        Rows = [.. lines.Skip(1).Select(cells => new CsvRow(columns, cells))];
    }

    public IReadOnlyList<CsvRow> Rows { get; }

    public static CsvTable Embedded(string fileName)
    {
        var assembly = Assembly.GetExecutingAssembly();
        var resource = assembly.GetManifestResourceNames().Single(name => name.EndsWith("." + fileName, StringComparison.Ordinal));
        using var reader = new StreamReader(assembly.GetManifestResourceStream(resource)!);
        return Parse(reader.ReadToEnd());
    }

    public static CsvTable Parse(string text)
    {
        List<string[]> lines = [];
        List<string> cells = [];
        var position = 0;
        while (position < text.Length)
        {
            cells.Add(ReadCell(text, ref position));
            if (position < text.Length && text[position] == ',')
            {
                position++;
                continue;
            }

            lines.Add([.. cells]);
            cells.Clear();
            while (position < text.Length && text[position] is '\r' or '\n')
            {
                position++;
            }
        }

        return new(lines);
    }

    private static string ReadCell(string text, ref int position)
    {
        var start = position;
        if (position >= text.Length || text[position] != '"')
        {
            while (position < text.Length && text[position] is not (',' or '\r' or '\n'))
            {
                position++;
            }

            return text[start..position];
        }

        do
        {
            position = text.IndexOf('"', position + 1) + 1;
        }
        while (position < text.Length && text[position] == '"');
        return text[(start + 1)..(position - 1)].Replace("\"\"", "\"", StringComparison.Ordinal);
    }
}

/// <summary>One row of a <see cref="CsvTable"/>. An empty cell is null.</summary>
internal sealed class CsvRow(IReadOnlyDictionary<string, int> columns, string[] cells)
{
    public string Text(string column) => cells[columns[column]];

    public double Number(string column) =>
        Optional(column) ?? throw new FormatException($"The column {column} of \"{cells[0]}\" is empty.");

    public double? Optional(string column) =>
        Text(column) is { Length: > 0 } text ? double.Parse(text, CultureInfo.InvariantCulture) : null;

    public int? Whole(string column) =>
        Text(column) is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : null;
}

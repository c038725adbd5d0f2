using System.Globalization;
using Chamber.Core.Climate;

namespace Chamber.Service.Import;

/// <summary>Where in a line each thing stands, and in what unit.</summary>
internal sealed class CsvColumns
{
    private static readonly Quantity[] AllQuantities = Enum.GetValues<Quantity>();

    private CsvColumns(int[] at, int? probe, IReadOnlyList<(int Index, DeclaredUnit Unit)> quantities, IReadOnlyList<string> header)
    {
        At = at;
        Probe = probe;
        Quantities = quantities;
        Unused = [.. header.Index().Where(column => !string.IsNullOrWhiteSpace(column.Item) && !at.Contains(column.Index)
            && column.Index != probe && quantities.All(quantity => quantity.Index != column.Index)).Select(column => column.Item.Trim())];
    }

    /// <summary>The names of columns from which nothing is taken.</summary>
    public IReadOnlyList<string> Unused { get; }

    /// <summary>One column, or two to be joined by a space.</summary>
    public int[] At { get; }

    public int? Probe { get; }

    public IReadOnlyList<(int Index, DeclaredUnit Unit)> Quantities { get; }

    /// <summary>Finds the columns in a header, or by number in a file without one.</summary>
    /// <exception cref="BadInputException">A column is missing; the message names those that are there.</exception>
    public static CsvColumns Find(CsvLayout layout, IReadOnlyList<string> header, string file)
    {
        RequireKnownNames(layout);
        var finder = new Finder(layout, header, file);
        var at = Array.ConvertAll(layout.Columns.GetValueOrDefault("at", "at").Split('+'), name => finder.Require(name, "at"));
        var quantities = new List<(int, DeclaredUnit)>();
        foreach (var quantity in AllQuantities)
        {
            var name = Fixes.NameOf(quantity);
            var index = layout.Columns.TryGetValue(name, out var column) ? finder.Require(column, name) : finder.Find(name);
            if (index is { } found)
            {
                quantities.Add((found, layout.UnitOf(quantity)));
            }
        }

        if (quantities.Count == 0)
        {
            finder.Require("temperature", "temperature");
        }

        int? probe = layout.Columns.TryGetValue("probe", out var named) ? finder.Require(named, "probe") : finder.Find("probe");
        return new(at, probe, quantities, header);
    }

    private static void RequireKnownNames(CsvLayout layout)
    {
        var known = AllQuantities.Select(Fixes.NameOf).Concat(["at", "probe"]).ToList();
        foreach (var name in layout.Columns.Keys.Concat(layout.Units.Keys).Where(name => !known.Contains(name)))
        {
            throw new BadInputException(
                $"\"{name}\" is not something that a column can hold: write at, probe, temperature, humidity, moisture or battery.");
        }
    }

    private sealed class Finder(CsvLayout layout, IReadOnlyList<string> header, string file)
    {
        public int Require(string column, string what) => Find(column) ?? throw new BadInputException(layout.Header
            ? $"{file} has no column \"{column}\" for {what}; it has {string.Join(", ", header.Select(name => $"\"{name}\""))}. "
                + $"{(layout.IsTrace ? "A trace has the columns at,temperature." : $"Name the right one with --column {what}=NAME.")}"
            : $"{file} has no header, so columns go by number: --column {what}=1 (it has {header.Count}).");

        public int? Find(string column)
        {
            if (!layout.Header)
            {
                return int.TryParse(column, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1
                    && number <= header.Count ? number - 1 : null;
            }

            for (var i = 0; i < header.Count; i++)
            {
                if (string.Equals(header[i].Trim(), column.Trim(), StringComparison.OrdinalIgnoreCase))
                {
                    return i;
                }
            }

            return null;
        }
    }
}

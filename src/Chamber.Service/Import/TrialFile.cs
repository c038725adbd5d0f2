using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Trials;
using CsvHelper;

namespace Chamber.Service.Import;

/// <summary>
/// Somebody's own trials: a file with columns <c>temperature,from,to,count</c>. Temperatures in °C, or with their unit (<c>68F</c>);
/// from and to in days since the sowing, an empty to for seeds that were not up when the trial ended.
/// </summary>
internal static class TrialFile
{
    private const int RowsMax = 100_000;
    private const int CountMax = 1_000_000;

    private static readonly string[] Names = ["temperature", "from", "to", "count"];

    /// <exception cref="BadInputException">The file cannot be read, or a line is not in this form; the message names the line.</exception>
    public static IReadOnlyList<TrialCount> Read(string path)
    {
        try
        {
            using var text = new StreamReader(path);
            using var reader = CsvReader.Create(text, new CsvReaderOptions { HasHeader = true, TrimWhitespace = true, TrackLineNumbers = true, AllowLineBreaksInQuotes = false });
            reader.ReadHeader();
            return Rows(reader, path, Columns(reader.Headers, path));
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {problem.Message}", problem);
        }
    }

    private static int[] Columns(IReadOnlyList<string> header, string path)
    {
        if (header.Count == 0)
        {
            throw new BadInputException($"{path} is empty. Its first line names the columns: {string.Join(',', Names)}");
        }

        var names = header.Select(name => name.Trim().TrimStart('\uFEFF')).ToList();
        return Array.ConvertAll(Names, wanted => names.FindIndex(name => string.Equals(name, wanted, StringComparison.OrdinalIgnoreCase)) is >= 0 and var index
            ? index
            : throw new BadInputException($"{path} line 1: there is no column \"{wanted}\". Its first line names the columns: {string.Join(',', Names)}"));
    }

    private static List<TrialCount> Rows(CsvReader reader, string path, int[] columns)
    {
        var counts = new List<TrialCount>();
        while (reader.Read())
        {
            var cells = Array.ConvertAll(columns, index => index < reader.FieldCount ? reader.GetString(index) ?? "" : "");
            if (reader.FieldCount == 0 || (reader.FieldCount == 1 && cells[0].Length == 0))
            {
                continue;
            }

            try
            {
                counts.Add(Row(cells));
            }
            catch (Exception problem) when (problem is FormatException or ArgumentException)
            {
                throw new BadInputException($"{path} line {reader.LineNumber}: {problem.Message}", problem);
            }

            if (counts.Count > RowsMax)
            {
                throw new BadInputException($"{path} line {reader.LineNumber}: more than {RowsMax} rows; add up counts of the same interval.");
            }
        }

        return counts.Count > 0 ? counts : throw new BadInputException($"{path} has no rows under its header.");
    }

    private static TrialCount Row(string[] cells)
    {
        var temperature = Degrees(cells[0]);
        var from = Days("from", cells[1]);
        var to = cells[2].Length == 0 ? (double?)null : Days("to", cells[2]);
        if (to <= from)
        {
            throw new FormatException($"to {cells[2]} is not later than from {cells[1]}: write the last look without the seedlings and the first with them.");
        }

        return int.TryParse(cells[3], NumberStyles.None, CultureInfo.InvariantCulture, out var count) && count <= CountMax
            ? new(temperature, from, to, count)
            : throw new FormatException($"count \"{cells[3]}\" is not a whole number of 0 or more.");
    }

    private static Temperature Degrees(string text)
    {
        var celsius = Number(text) ?? TemperatureText.Parse(text).Celsius;
        return celsius is >= -10 and <= 60
            ? Temperature.FromCelsius(celsius)
            : throw new FormatException($"temperature {text} lies outside -10 to 60 °C: no trial of seed is that cold or hot. Fahrenheit is written with its unit, as 68F.");
    }

    private static double Days(string name, string text) => Number(text) is >= 0 and <= 3650 and var days
        ? days
        : throw new FormatException($"{name} \"{text}\" is not a number of days since the sowing, 0 to 3650.");

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : null;
}

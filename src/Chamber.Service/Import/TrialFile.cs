using System.Globalization;
using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Core.Trials;
using CsvHelper;

namespace Chamber.Service.Import;

/// <summary>
/// Somebody's own trials: a file with columns <c>temperature,from,to,count</c>. Temperatures in °C, or with their unit (<c>68F</c>); from
/// and to in days since the sowing, an empty to for seeds that were not up when the trial ended. A further column <c>dish</c> names the
/// dish or tray, where a temperature had several.
/// </summary>
internal static class TrialFile
{
    private static readonly string[] Names = ["temperature", "from", "to", "count"];

    /// <exception cref="BadInputException">The file cannot be read, or a line is not in this form; the message names the line.</exception>
    public static IReadOnlyList<TrialCount> Read(string path)
    {
        try
        {
            using var text = new StreamReader(path);
            using var reader = CsvReader.Create(text,
                new CsvReaderOptions { HasHeader = true, TrimWhitespace = true, TrackLineNumbers = true, AllowLineBreaksInQuotes = false });
            reader.ReadHeader();
            return Rows(reader, path, [.. Columns(reader.Headers, path), Find(reader.Headers, "dish")]);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    /// <summary>Rows that somebody typed: temperature, from, to, count and dish; the last and to may be empty.</summary>
    /// <exception cref="BadInputException">There is none, there are too many, or one is not in this form; the message names the
    /// row.</exception>
    public static IReadOnlyList<TrialCount> Of(IReadOnlyList<string[]> rows)
    {
        Bounds.TrialRows.Require(rows.Count);
        return [.. rows.Select((cells, index) =>
        {
            try
            {
                return Row(cells);
            }
            catch (BadInputException problem)
            {
                throw new BadInputException($"Row {index + 1}: {problem.Message}", problem) { Field = $"rows[{index}].{problem.Field}" };
            }
        })];
    }

    private static int[] Columns(IReadOnlyList<string> header, string path)
    {
        if (header.Count == 0)
        {
            throw new BadInputException($"{path} is empty. Its first line names the columns: {string.Join(',', Names)}");
        }

        return Array.ConvertAll(Names, wanted => Find(header, wanted) is >= 0 and var index
            ? index
            : throw new BadInputException(
                $"{path} line 1: there is no column \"{wanted}\". Its first line names the columns: {string.Join(',', Names)}"));
    }

    /// <summary>Where a column stands; -1 when there is none.</summary>
    private static int Find(IReadOnlyList<string> header, string wanted) => header.ToList().FindIndex(
        name => string.Equals(name.Trim().TrimStart('\uFEFF'), wanted, StringComparison.OrdinalIgnoreCase));

    private static List<TrialCount> Rows(CsvReader reader, string path, int[] columns)
    {
        var counts = new List<TrialCount>();
        while (reader.Read())
        {
            var cells = Array.ConvertAll(columns, index => index >= 0 && index < reader.FieldCount ? reader.GetString(index) ?? "" : "");
            if (reader.FieldCount == 0 || (reader.FieldCount == 1 && cells[0].Length == 0))
            {
                continue;
            }

            try
            {
                counts.Add(Row(cells));
            }
            catch (BadInputException problem)
            {
                throw new BadInputException($"{path} line {reader.LineNumber}: {problem.Message}", problem);
            }

            if (!Bounds.TrialRows.Holds(counts.Count))
            {
                throw new BadInputException($"{path} line {reader.LineNumber}: {Bounds.TrialRows.WhyNot(counts.Count)}");
            }
        }

        return counts.Count > 0 ? counts : throw new BadInputException($"{path} has no rows under its header.");
    }

    private static TrialCount Row(string[] cells)
    {
        var temperature = BadInputException.In("temperature", () => Degrees(cells[0]));
        var from = Days("from", cells[1]);
        var to = cells[2].Length == 0 ? (double?)null : Days("to", cells[2]);
        if (to <= from)
        {
            throw BadInputException.In("to",
                $"to {cells[2]} is not later than from {cells[1]}: write the last look without the seedlings and the first with them.");
        }

        return int.TryParse(cells[3], NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            ? new(temperature, from, to, BadInputException.In("count", () => Bounds.TrialCount.Require(count)))
            {
                Dish = cells[4].Length == 0 ? null : BadInputException.In("dish", () => Bounds.Dish.Require(cells[4])),
            }
            : throw BadInputException.In("count", $"count \"{cells[3]}\" is not a whole number of 0 or more.");
    }

    private static Temperature Degrees(string text)
    {
        var celsius = Number(text) ?? TemperatureText.Parse(text).Celsius;
        return Temperature.FromCelsius(Bounds.TrialCelsius.Require(celsius));
    }

    private static double Days(string name, string text) => Number(text) is { } days && Bounds.TrialDays.Holds(days)
        ? days
        : throw BadInputException.In(name, $"{name} \"{text}\" is not a number of days since the sowing, {Bounds.TrialDays.Range}.");

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent,
            CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : null;
}

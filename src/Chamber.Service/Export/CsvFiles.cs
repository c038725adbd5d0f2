using System.Globalization;
using System.Reflection;
using Chamber.Core.Spots;
using CsvHelper;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Export;

/// <summary>Rows as CSV (RFC 4180): a header, CRLF, quotes where needed, decimal points, times as RFC 3339 in UTC.</summary>
internal static class CsvFiles
{
    /// <summary>Each kind of row with its file name.</summary>
    public static IEnumerable<(string Name, string Text)> Of(HomeExport export)
    {
        yield return ("spots.csv", Table(export.Spots.Select(spot => new SpotRow(spot.Id.Text, spot.Kind, spot.Light, spot.Room))));
        yield return ("stations.csv", Table(export.Stations));
        yield return ("lots.csv", Table(export.Lots));
        yield return ("tests.csv", Table(export.Tests));
        yield return ("batches.csv", Table(export.Batches));
        yield return ("stays.csv", Table(export.Stays));
        yield return ("looks.csv", Table(export.Looks));
        yield return ("stages.csv", Table(export.Stages));
        yield return ("losses.csv", Table(export.Losses));
        yield return ("probes.csv", Table(export.Probes));
        yield return ("calibrations.csv", Table(export.Calibrations));
        yield return ("crops.csv", Table(export.Crops));
        yield return ("alerts.csv", Table(export.Alerts));
    }

    private static string Table<T>(IEnumerable<T> rows)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        var columns = typeof(T).GetProperties(BindingFlags.Public | BindingFlags.Instance);

        // Notes are free text: a spreadsheet must not take one for a formula.
        using (var csv = CsvWriter.Create(text, new CsvWriterOptions { Injection = CsvInjection.Escape }, true))
        {
            csv.WriteHeader([.. columns.Select(column => char.ToLowerInvariant(column.Name[0]) + column.Name[1..])]);
            foreach (var row in rows)
            {
                csv.WriteRecord([.. columns.Select(column => Cell(column.GetValue(row)))]);
            }
        }

        return text.ToString();
    }

    private static string Cell(object? value) => value switch
    {
        null => string.Empty,
        Instant at => InstantPattern.ExtendedIso.Format(at),
        bool yes => yes ? "true" : "false",
        double number => number.ToString("0.####", CultureInfo.InvariantCulture),
        Enum word => Word(word),
        IFormattable plain => plain.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? string.Empty,
    };

    private static string Word(Enum word) =>
        string.Concat(word.ToString().Select((letter, i) => char.IsAsciiLetterUpper(letter) && i > 0 ? $"-{char.ToLowerInvariant(letter)}"
            : $"{char.ToLowerInvariant(letter)}"));

    private sealed record SpotRow(string Spot, SpotKind Kind, LightLevel Light, int Room);
}

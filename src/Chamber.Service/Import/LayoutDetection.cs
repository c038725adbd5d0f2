using System.Text;
using System.Text.RegularExpressions;
using CsvHelper;
using NodaTime.Text;

namespace Chamber.Service.Import;

/// <summary>A layout with what its file itself says.</summary>
/// <param name="Layout">How the file is written.</param>
/// <param name="Understood">What nobody had said and was taken from the file, in words.</param>
internal sealed record DetectedLayout(CsvLayout Layout, IReadOnlyList<string> Understood);

/// <summary>
/// Works out from the first lines of a file how it is written, as far as nobody has said so: where its header is, which columns hold what,
/// the decimal sign and the form of times. What can be read in two ways is asked about. Everything that was taken is told.
/// </summary>
internal static partial class LayoutDetection
{
    private const int RowsLookedAt = 500;
    private const int PrologueMax = 15;

    // Unambiguous forms first; what has a day and a month of two digits each between slashes is asked about.
    private static readonly string[] TimeForms =
    [
        "rfc3339", "epoch-seconds", "epoch-milliseconds", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-dd HH:mm", "yyyy-MM-dd'T'HH:mm:ss",
        "yyyy-MM-dd'T'HH:mm", "d.M.yyyy H:mm:ss", "d.M.yyyy H:mm", "yyyy/MM/dd HH:mm:ss", "yyyy/MM/dd HH:mm", "d/M/yyyy H:mm:ss",
        "d/M/yyyy H:mm", "M/d/yyyy H:mm:ss", "M/d/yyyy H:mm",
    ];

    /// <param name="path">The file.</param>
    /// <param name="told">What was said of it.</param>
    /// <param name="probe">Whether the probe was named.</param>
    /// <param name="zone">The zone of times without one.</param>
    /// <exception cref="BadInputException">Its times can be read in two ways.</exception>
    public static DetectedLayout Of(string path, CsvLayout told, bool probe, string zone)
    {
        if (!told.Header || told.IsFile || !File.Exists(path))
        {
            return new(told, []);
        }

        var understood = new List<string>();
        var (layout, header, rows) = WithHeader(path, told, probe, understood);
        if (header.Count == 0 || rows.Count == 0)
        {
            return new(layout, understood);
        }

        layout = WithDecimal(layout, header, rows, understood);
        return new(WithTime(layout, header, rows, zone, understood), understood);
    }

    private static (CsvLayout Layout, IReadOnlyList<string> Header, IReadOnlyList<string[]> Rows) WithHeader(string path, CsvLayout told,
        bool probe, List<string> understood)
    {
        var first = Sample(path, told);
        for (var skip = told.Skip; skip <= (told.Skip > 0 ? told.Skip : PrologueMax); skip++)
        {
            var (header, rows) = skip == told.Skip ? first : Sample(path, told with { Skip = skip });
            var columns = HeaderNames.Find(header, told, probe);
            if (columns.ContainsKey("at") && columns.ContainsKey("temperature"))
            {
                var named = columns.Where(column => !told.Columns.ContainsKey(column.Key)
                    && !string.Equals(column.Key, column.Value.Name, StringComparison.OrdinalIgnoreCase)).ToDictionary();
                understood.AddRange(skip > told.Skip ? [$"the header is line {skip + 1}"] : []);
                understood.AddRange(named.Select(column =>
                    $"{(column.Key == "at" ? "time" : column.Key)}{Unit(column.Value.Unit)} from \"{column.Value.Name}\""));
                return (told with
                {
                    Skip = skip,
                    Columns = told.Columns.Concat(named.Select(column => KeyValuePair.Create(column.Key, column.Value.Name)))
                        .ToDictionary(),
                    Units = told.Units.Concat(named.Where(column => column.Value.Unit is not null && !told.Units.ContainsKey(column.Key))
                        .Select(column => KeyValuePair.Create(column.Key, column.Value.Unit!))).ToDictionary(),
                }, header, rows);
            }
        }

        return (told, first.Header, first.Rows);
    }

    private static string Unit(string? unit) => unit is null ? "" : $" in °{unit}";

    private static CsvLayout WithDecimal(CsvLayout layout, IReadOnlyList<string> header, IReadOnlyList<string[]> rows,
        List<string> understood)
    {
        if (layout.DecimalTold || Index(header, layout.Columns.GetValueOrDefault("temperature", "temperature")) is not { } column)
        {
            return layout;
        }

        var values = rows.Where(row => column < row.Length).Select(row => row[column]).ToList();
        if (!values.Exists(value => DecimalComma().IsMatch(value)) || values.Exists(value => value.Contains('.', StringComparison.Ordinal)))
        {
            return layout;
        }

        understood.Add("a comma is the decimal sign");
        return layout with { Decimal = "," };
    }

    private static CsvLayout WithTime(CsvLayout layout, IReadOnlyList<string> header, IReadOnlyList<string[]> rows, string zone,
        List<string> understood)
    {
        var columns = layout.Columns.GetValueOrDefault("at", "at").Split('+').Select(name => Index(header, name)).ToList();
        if (layout.TimeTold || columns.Contains(null))
        {
            return layout;
        }

        var texts = rows.Where(row => columns.TrueForAll(column => column < row.Length))
            .Select(row => string.Join(' ', columns.Select(column => row[column!.Value])).Trim()).Where(text => text.Length > 0).ToList();
        var counts = TimeForms.Select(form => (Form: form, Count: texts.Count(text => IsOf(form, text)))).ToList();
        var best = counts.MaxBy(count => count.Count);
        if (best.Count * 2 <= texts.Count || best.Form == "rfc3339")
        {
            return layout;
        }

        if (counts.Find(other => other.Count == best.Count && other.Form != best.Form && other.Form.Contains('/', StringComparison.Ordinal)
            && best.Form.Contains('/', StringComparison.Ordinal)) is { Form: { } second })
        {
            throw new BadInputException($"\"{texts[0]}\" can be read in two ways: add --time \"{best.Form}\" or --time \"{second}\".");
        }

        understood.Add(best.Form.StartsWith("epoch", StringComparison.Ordinal) ? $"times as {best.Form}"
            : $"times as {best.Form} in {layout.Zone ?? zone}");
        return layout with { Time = best.Form };
    }

    private static bool IsOf(string form, string text) => form switch
    {
        "rfc3339" => OffsetDateTimePattern.Rfc3339.Parse(text).Success,
        "epoch-seconds" => text.Length is 9 or 10 && text.All(char.IsAsciiDigit),
        "epoch-milliseconds" => text.Length is 12 or 13 && text.All(char.IsAsciiDigit),
        _ => LocalDateTimePattern.CreateWithInvariantCulture(form.Replace('y', 'u')).Parse(text).Success,
    };

    private static int? Index(IReadOnlyList<string> header, string name) =>
        header.Index().Where(column => string.Equals(column.Item.Trim(), name.Trim(), StringComparison.OrdinalIgnoreCase))
            .Select(column => (int?)column.Index).FirstOrDefault();

    private static (IReadOnlyList<string> Header, IReadOnlyList<string[]> Rows) Sample(string path, CsvLayout layout)
    {
        using var text = new StreamReader(path, Encoding.UTF8, detectEncodingFromByteOrderMarks: true);
        for (var i = 0; i < layout.Skip; i++)
        {
            text.ReadLine();
        }

        try
        {
            using var reader = CsvReader.Create(text, new CsvReaderOptions { Separator = layout.Separator, HasHeader = true,
                TrimWhitespace = true, AllowLineBreaksInQuotes = false });
            reader.ReadHeader();
            var (header, rows) = (reader.Headers.ToList(), new List<string[]>());
            while (rows.Count < RowsLookedAt && reader.Read())
            {
                rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(index => reader.GetString(index) ?? "")]);
            }

            return (header, rows);
        }
        catch (Exception problem) when (problem is not (OutOfMemoryException or BadInputException))
        {
            // What cannot be read is told by the import itself, with its line.
            return ([], []);
        }
    }

    [GeneratedRegex(@"^-?\d+,\d+$", RegexOptions.CultureInvariant)]
    private static partial Regex DecimalComma();
}

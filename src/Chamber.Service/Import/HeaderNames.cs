using System.Text.RegularExpressions;

namespace Chamber.Service.Import;

/// <summary>Columns by the names that loggers and spreadsheets usually give them. Common practice, no source.</summary>
internal static partial class HeaderNames
{
    private static readonly string[] Moments = ["at", "timestamp", "ts", "datetime", "date time", "date/time", "date and time",
        "measured at", "recorded at", "zeitstempel", "datum/uhrzeit"];

    private static readonly string[] Days = ["date", "day", "datum"];
    private static readonly string[] Clocks = ["time", "clock", "hour", "zeit", "uhrzeit", "uhr"];

    private static readonly (string What, string[] Names)[] Others =
    [
        ("temperature", ["temperature", "temp", "t", "temperatur", "celsius", "fahrenheit", "air temperature", "soil temperature",
            "media temperature"]),
        ("humidity", ["humidity", "rh", "relative humidity", "hum", "feuchte", "luftfeuchte"]),
        ("moisture", ["moisture", "soil moisture", "media moisture"]),
        ("battery", ["battery", "batt"]),
    ];

    private static readonly string[] Probes = ["probe", "sensor", "device"];

    /// <summary>What the columns of a header hold, with the unit that a name gives: C or F. What was said already stays as it is.</summary>
    public static Dictionary<string, (string Name, string? Unit)> Find(IReadOnlyList<string> header, CsvLayout told, bool probe)
    {
        var found = told.Columns.ToDictionary(column => column.Key, column => (column.Value, (string?)null));
        if (At(header) is { } at)
        {
            found.TryAdd("at", (at, null));
        }

        foreach (var (what, names) in Others)
        {
            if (header.FirstOrDefault(name => names.Contains(Bare(name)) && (what != "battery" || !IsVolts(name))) is { } column)
            {
                found.TryAdd(what, (column.Trim(), what == "temperature" ? UnitOf(column) : null));
            }
        }

        if (!probe && header.FirstOrDefault(name => Probes.Contains(Bare(name))) is { } source)
        {
            found.TryAdd("probe", (source.Trim(), null));
        }

        return found;
    }

    private static string? At(IReadOnlyList<string> header)
    {
        if (header.FirstOrDefault(name => Moments.Contains(Bare(name))) is { } moment)
        {
            return moment.Trim();
        }

        var (day, clock) = (header.FirstOrDefault(name => Days.Contains(Bare(name))),
            header.FirstOrDefault(name => Clocks.Contains(Bare(name))));
        return (day, clock) switch
        {
            ({ } date, { } time) => $"{date.Trim()}+{time.Trim()}",
            _ => (clock ?? day)?.Trim(),
        };
    }

    // Without the unit: "Temp (°C)", "temp_c" and "Temperature °C" are temp and temperature.
    private static string Bare(string name)
    {
        var words = Units().Replace(Brackets().Replace(name, " ").Replace('_', ' '), " ")
            .Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return string.Join(' ', words.Length > 1 && words[^1] is "c" or "C" or "f" or "F" ? words[..^1] : words).ToLowerInvariant();
    }

    private static string? UnitOf(string name) =>
        Celsius().IsMatch(name) ? "C" : Fahrenheit().IsMatch(name) ? "F" : null;

    private static bool IsVolts(string name) => name.Contains("(V)", StringComparison.OrdinalIgnoreCase)
        || name.Contains("volt", StringComparison.OrdinalIgnoreCase);

    [GeneratedRegex(@"°\s?[CF]", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Units();

    [GeneratedRegex(@"[\(\[][^\)\]]*[\)\]]")]
    private static partial Regex Brackets();

    [GeneratedRegex(@"°\s?C|[\(\[]\s?C\s?[\)\]]|[_ ]C$|celsius", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Celsius();

    [GeneratedRegex(@"°\s?F|[\(\[]\s?F\s?[\)\]]|[_ ]F$|fahrenheit", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Fahrenheit();
}

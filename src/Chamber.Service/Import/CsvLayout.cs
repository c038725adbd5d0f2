using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core.Climate;
using Chamber.Service.Configuration;

namespace Chamber.Service.Import;

/// <summary>
/// How a logger writes its file: everything that the options of <c>import</c> can say, and what a layout file (JSON, the same
/// names) holds. Without any it is Chamber's own form: columns <c>at,temperature</c> and perhaps <c>probe,humidity,moisture,battery</c>,
/// commas, RFC 3339, °C and %.
/// </summary>
internal sealed record CsvLayout
{
    /// <summary>What parts the columns; null takes the one of , ; tab | that the header has most of.</summary>
    public string? Delimiter { get; init; }

    /// <summary>The decimal sign.</summary>
    public string Decimal { get; init; } = ".";

    /// <summary>Lines before the header that are passed over.</summary>
    public int Skip { get; init; }

    /// <summary>Whether there is a line with names of columns; without one columns go by number, from 1.</summary>
    public bool Header { get; init; } = true;

    /// <summary><c>rfc3339</c>, <c>epoch-seconds</c>, <c>epoch-milliseconds</c>, or a pattern such as <c>dd.MM.yyyy HH:mm</c>.</summary>
    public string Time { get; init; } = "rfc3339";

    /// <summary>The zone of times without an offset: a tz database name or an offset such as +02:00. The home's by default.</summary>
    public string? Zone { get; init; }

    /// <summary>Which column holds what: <c>at</c> (two joined by + for date and time), <c>probe</c>, <c>temperature</c>, <c>humidity</c>,
    /// <c>moisture</c>, <c>battery</c>.</summary>
    public IReadOnlyDictionary<string, string> Columns { get; init; } = new Dictionary<string, string>();

    /// <summary>The unit of each quantity whose column was named.</summary>
    public IReadOnlyDictionary<string, string> Units { get; init; } = new Dictionary<string, string>();

    /// <summary>The form of a trace, which cannot be recognised otherwise: what is wrong with a file is said without naming options, and
    /// any time is one.</summary>
    [JsonIgnore]
    public bool IsTrace { get; init; }

    /// <summary>Whether somebody said what the decimal sign is.</summary>
    [JsonIgnore]
    public bool DecimalTold { get; init; }

    /// <summary>Whether somebody said in which form times are.</summary>
    [JsonIgnore]
    public bool TimeTold { get; init; }

    /// <summary>Whether a layout file says it all.</summary>
    [JsonIgnore]
    public bool IsFile { get; init; }

    /// <summary>The sign that parts the columns; null leaves it to the header.</summary>
    /// <exception cref="BadInputException">It is not one sign.</exception>
    [JsonIgnore]
    public char? Separator => Delimiter switch
    {
        null => null,
        "\\t" or "tab" => '\t',
        [var sign] when char.IsAscii(sign) => sign,
        _ => throw new BadInputException($"The delimiter \"{Delimiter}\" is not one sign: write , ; | or tab."),
    };

    /// <exception cref="BadInputException">The file cannot be read or understood.</exception>
    public static CsvLayout Read(string path)
    {
        try
        {
            return JsonSerializer.Deserialize<CsvLayout>(File.ReadAllText(path), SettingsText.Options) ?? new();
        }
        catch (JsonException problem)
        {
            throw new BadInputException(SettingsErrors.Tell(problem, (key, line) => $"{path} line {line}: {key}"), problem);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    /// <summary>The declared unit of a quantity: that of <see cref="Units"/>, otherwise Chamber's own for a column under its own
    /// name.</summary>
    /// <exception cref="BadInputException">None was declared for a column of another name, or it is unknown.</exception>
    public DeclaredUnit UnitOf(Quantity quantity)
    {
        var name = Fixes.NameOf(quantity);
        if (!Units.TryGetValue(name, out var code))
        {
            return Columns.ContainsKey(name) && quantity == Quantity.Temperature
                ? throw new BadInputException("The unit of temperature is not given: add --unit temperature=C or --unit temperature=F.")
                : Own(quantity);
        }

        return DeclaredUnit.TryParse(Ucum(code), quantity, out var unit)
            ? unit
            : throw new BadInputException($"\"{code}\" is not a unit of {name}: write "
                + $"{(quantity == Quantity.Temperature ? "C, F or K" : DeclaredUnit.CodesFor(quantity))}.");
    }

    private static DeclaredUnit Own(Quantity quantity) => quantity switch
    {
        Quantity.Temperature => DeclaredUnit.Celsius,
        Quantity.Humidity => DeclaredUnit.HumidityPercent,
        Quantity.Battery => DeclaredUnit.BatteryPercent,
        _ => DeclaredUnit.MoistureRaw,
    };

    private static string Ucum(string code) => code switch
    {
        "C" => "Cel",
        "F" => "[degF]",
        _ => code,
    };
}

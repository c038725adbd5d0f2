using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Chamber.Testing;

/// <summary>
/// An answer that was read by somebody, found right and kept. Names, words, counts and order are compared exactly; other numbers, instants
/// and the digits inside sentences with as little latitude as a simulation that runs beside a clock needs.
/// </summary>
public static partial class AnswerFile
{
    /// <summary>A share, a chance.</summary>
    private const double OfOne = 0.01;

    /// <summary>Days, hours, degrees and scores, up to a hundred.</summary>
    private const double Tenth = 0.1;

    /// <summary>Sums of many hours, as a part of them.</summary>
    private const double OfSums = 0.005;
    private const double OfSmall = 0.05;
    private const double PercentPoints = 1;

    private static readonly TimeSpan Instants = TimeSpan.FromMinutes(30);

    /// <summary>Compares, or writes the file again when CHAMBER_ANSWERS is <c>write</c>.</summary>
    /// <exception cref="InvalidOperationException">It differs; the message names each place.</exception>
    public static void Compare(string path, string answer)
    {
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, answer);
            return;
        }

        var differences = Differences(File.ReadAllText(path), answer);
        if (differences.Count > 0)
        {
            throw new InvalidOperationException($"{Path.GetFileName(path)} differs:\n{string.Join('\n', differences)}");
        }
    }

    /// <summary>Where two answers differ by more than they may; at most twenty places.</summary>
    public static IReadOnlyList<string> Differences(string kept, string given)
    {
        using var before = JsonDocument.Parse(kept);
        using var now = JsonDocument.Parse(given);
        return [.. Differences(string.Empty, before.RootElement, now.RootElement).Take(20)];
    }

    private static IEnumerable<string> Differences(string place, JsonElement kept, JsonElement given) =>
        (kept.ValueKind, given.ValueKind) switch
    {
        (JsonValueKind.Object, JsonValueKind.Object) => OfObjects(place, kept, given),
        (JsonValueKind.Array, JsonValueKind.Array) when kept.GetArrayLength() == given.GetArrayLength() =>
            kept.EnumerateArray().Zip(given.EnumerateArray())
                .SelectMany((pair, at) => Differences($"{place}[{at}]", pair.First, pair.Second)),
        (JsonValueKind.Number, JsonValueKind.Number) when IsNear(kept, given) => [],
        (JsonValueKind.String, JsonValueKind.String) when IsNear(kept.GetString()!, given.GetString()!) => [],
        _ when kept.GetRawText() == given.GetRawText() => [],
        _ => [$"{place}: {Short(kept)} was kept, {Short(given)} is given"],
    };

    private static IEnumerable<string> OfObjects(string place, JsonElement kept, JsonElement given)
    {
        var (names, others) = (Names(kept), Names(given));
        return names.SequenceEqual(others)
            ? names.SelectMany(name => Differences($"{place}.{name}", kept.GetProperty(name), given.GetProperty(name)))
            : [$"{place}: has {string.Join(", ", others)} instead of {string.Join(", ", names)}"];
    }

    private static string[] Names(JsonElement element) => [.. element.EnumerateObject().Select(property => property.Name)];

    // A count or a number of something is whole, and whole it stays.
    private static bool IsNear(JsonElement kept, JsonElement given) =>
        kept.TryGetInt64(out var count) && given.TryGetInt64(out var other) ? count == other : IsNear(kept.GetDouble(), given.GetDouble());

    private static bool IsNear(double kept, double given) => Math.Abs(kept - given) <= Latitude(Math.Abs(kept));

    private static double Latitude(double size) => size switch
    {
        <= 1 => OfOne,
        <= 100 => Math.Min(Tenth, Math.Max(OfSmall, OfSums * size)),
        _ => OfSums * size,
    };

    private static bool IsNear(string kept, string given)
    {
        if (Moment(kept) is { } then && Moment(given) is { } now)
        {
            return (then - now).Duration() <= Instants;
        }

        var (words, others) = (Number().Split(kept), Number().Split(given));
        var (numbers, theirs) = (Number().Matches(kept), Number().Matches(given));
        return words.SequenceEqual(others) && numbers.Zip(theirs)
            .Select((pair, at) => IsNear(pair.First.Value, pair.Second.Value, words[at + 1])).All(near => near);
    }

    /// <summary>Numbers of a sentence: times of day, percents and decimals have a latitude, and a whole number has none.</summary>
    private static bool IsNear(string kept, string given, string after)
    {
        if (TimeOnly.TryParseExact(kept, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var then)
            && TimeOnly.TryParseExact(given, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var now))
        {
            return (then - now) <= Instants || (now - then) <= Instants;
        }

        var latitude = after.StartsWith(" %", StringComparison.Ordinal) ? PercentPoints
            : kept.Contains('.', StringComparison.Ordinal) ? Tenth : 0;
        return kept == given
            || (double.TryParse(kept, CultureInfo.InvariantCulture, out var ours)
                && double.TryParse(given, CultureInfo.InvariantCulture, out var other) && Math.Abs(ours - other) <= latitude + 1e-9);
    }

    private static DateTimeOffset? Moment(string text) =>
        text.Length >= 20 && text[10] == 'T' && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, out var moment) ? moment : null;

    private static string Short(JsonElement element) =>
        element.GetRawText() is { Length: > 100 } text ? text[..100] + "..." : element.GetRawText();

    // Digits that belong to a name, as in T1 or mat-2b, are no number.
    [GeneratedRegex(@"(?<![\w-])[0-9]{2}:[0-9]{2}(?![\w:])|(?<![\w.-])-?[0-9]+(?:\.[0-9]+)?(?![\w.]*\w)")]
    private static partial Regex Number();
}

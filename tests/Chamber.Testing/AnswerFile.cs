using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Chamber.Testing;

/// <summary>
/// An answer that was read by somebody, found right and kept. Names, words and order are compared exactly; numbers, instants and
/// the digits inside sentences with the latitude that the callers' README explains.
/// </summary>
public static partial class AnswerFile
{
    private const double Share = 0.005;
    private const double Least = 0.05;
    private static readonly TimeSpan Instants = TimeSpan.FromMinutes(30);

    /// <summary>Compares, or writes the file anew when CHAMBER_ANSWERS is <c>write</c>.</summary>
    /// <exception cref="InvalidOperationException">It differs; the message names each place.</exception>
    public static void Compare(string path, string answer)
    {
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, answer);
            return;
        }

        using var kept = JsonDocument.Parse(File.ReadAllText(path));
        using var given = JsonDocument.Parse(answer);
        var differences = Differences(string.Empty, kept.RootElement, given.RootElement).Take(20).ToList();
        if (differences.Count > 0)
        {
            throw new InvalidOperationException($"{Path.GetFileName(path)} differs:\n{string.Join('\n', differences)}");
        }
    }

    private static IEnumerable<string> Differences(string place, JsonElement kept, JsonElement given) => (kept.ValueKind, given.ValueKind) switch
    {
        (JsonValueKind.Object, JsonValueKind.Object) => OfObjects(place, kept, given),
        (JsonValueKind.Array, JsonValueKind.Array) when kept.GetArrayLength() == given.GetArrayLength() =>
            kept.EnumerateArray().Zip(given.EnumerateArray()).SelectMany((pair, at) => Differences($"{place}[{at}]", pair.First, pair.Second)),
        (JsonValueKind.Number, JsonValueKind.Number) when IsNear(kept.GetDouble(), given.GetDouble()) => [],
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

    private static bool IsNear(double kept, double given) => Math.Abs(kept - given) <= Math.Max(Least, Share * Math.Abs(kept));

    private static bool IsNear(string kept, string given) =>
        Moment(kept) is { } then && Moment(given) is { } now ? (then - now).Duration() <= Instants : Digits().Replace(kept, "0") == Digits().Replace(given, "0");

    private static DateTimeOffset? Moment(string text) =>
        text.Length >= 20 && text[10] == 'T' && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, out var moment) ? moment : null;

    private static string Short(JsonElement element) => element.GetRawText() is { Length: > 100 } text ? text[..100] + "..." : element.GetRawText();

    [GeneratedRegex("[0-9]+")]
    private static partial Regex Digits();
}

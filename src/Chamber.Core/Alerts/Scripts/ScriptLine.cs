using System.Globalization;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>The words of a line, taken one after the other.</summary>
internal sealed class ScriptLine(string name, int number, string text)
{
    private readonly string[] words = text.Replace(",", " , ", StringComparison.Ordinal)
        .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);

    private int next;

    public int Number => number;

    public bool IsAtEnd => next >= words.Length;

    /// <summary>The word that was taken last.</summary>
    public string LastWord => words[next - 1];

    private string? Peek => next < words.Length ? words[next] : null;

    public WatchScriptException Wrong(string message) => new(name, number, message);

    /// <summary>Takes the given words when they stand next.</summary>
    public bool Take(string expected)
    {
        var parts = expected.Split(' ');
        if (next + parts.Length > words.Length || !parts.Select((part, index) => words[next + index] == part).All(same => same))
        {
            return false;
        }

        next += parts.Length;
        return true;
    }

    /// <summary>Takes a word when it is the last of the line.</summary>
    public bool TakeLast(string expected) => next == words.Length - 1 && Take(expected);

    public void Need(string expected, string form)
    {
        if (!Take(expected))
        {
            throw Wrong($"expected \"{expected}\" but found {Found()}; write: {form}");
        }
    }

    public string Word(string what, string form) =>
        next < words.Length && words[next] != "," ? words[next++] : throw Wrong($"the {what} is missing; write: {form}");

    public double Quantity(string what, string form)
    {
        var word = Word(what, form);
        return double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)
            ? value
            : throw Wrong($"\"{word}\" is not a number; the {what} goes here: {form}");
    }

    /// <summary>The same, within a bound.</summary>
    public double Quantity(string what, string form, Bound bound) => Within(bound, Quantity(what, form));

    /// <summary>A whole number within a bound.</summary>
    public int Whole(string what, string form, Bound bound)
    {
        var value = Quantity(what, form, bound);
        return value == Math.Floor(value) ? (int)value : throw Wrong($"\"{LastWord}\" is not a whole number; write: {form}");
    }

    /// <summary>Returns a value that keeps to a bound.</summary>
    public double Within(Bound bound, double value) => bound.WhyNot(value) is { } why ? throw Wrong(why[..^1]) : value;

    public bool IsNumberNext => double.TryParse(Peek, NumberStyles.Float, CultureInfo.InvariantCulture, out _);

    /// <summary>A length of time, at most as long as a record may be.</summary>
    public Duration Duration(string form) => Duration(form, Bounds.Age);

    public Duration Duration(string form, TimeBound bound)
    {
        var count = Quantity("length of time", form);
        var unit = Word("unit of time", form) switch
        {
            "s" => 1,
            "min" => NodaConstants.SecondsPerMinute,
            "h" => NodaConstants.SecondsPerHour,
            "days" or "day" => NodaConstants.SecondsPerDay,
            var other => throw Wrong($"\"{other}\" is no unit of time; use s, min, h or days"),
        };

        // No length that is reported is longer than this, and none that is reckoned with overflows.
        var length = NodaTime.Duration.FromSeconds(Math.Clamp(count * unit, 0, 1e12));
        if (count <= 0 || length <= NodaTime.Duration.Zero)
        {
            throw Wrong($"a length of time is more than 0; write: {form}");
        }

        return bound.WhyNot(length) is { } why ? throw Wrong(why[..^1]) : length;
    }

    /// <summary>A time of day, HH:mm, when one stands next.</summary>
    public LocalTime? TimeOfDay()
    {
        var parsed = Peek is { } word ? NodaTime.Text.LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(word) : null;
        if (parsed is not { Success: true })
        {
            return null;
        }

        next++;
        return parsed.Value;
    }

    /// <summary>A name for something.</summary>
    public string Identifier(string what, string form)
    {
        var word = Word($"name of the {what}", form);
        return Core.Identifier.IsValid(word) ? word : throw Wrong($"\"{word}\" cannot name a {what}; use letters, digits, '-', '_' or '.'");
    }

    /// <summary>What words name of a set.</summary>
    public T Choose<T>(string chosen, string what)
        where T : struct, Enum =>
        Enum.TryParse<T>(chosen.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var value)
            && !char.IsAsciiDigit(chosen[0])
            ? value
            : throw Wrong($"\"{chosen}\" is no {what}; use one of {string.Join(", ", Enum.GetNames<T>().Select(Spelling.Spaced))}");

    /// <summary>Takes the words of one of a set.</summary>
    public T TakeOneOf<T>(string what, T? except)
        where T : struct, Enum
    {
        foreach (var known in Enum.GetValues<T>())
        {
            if (Take(Spelling.Spaced(known.ToString())))
            {
                return known;
            }
        }

        var names = Enum.GetValues<T>().Where(known => !known.Equals(except)).Select(known => Spelling.Spaced(known.ToString()));
        throw Wrong($"no {what} has this name; the names are {string.Join(", ", names)}");
    }

    public void End(string form)
    {
        if (!IsAtEnd)
        {
            throw Wrong($"{Found()} is too much here; write: {form}");
        }
    }

    private string Found() => Peek is { } word ? $"\"{word}\"" : "the end of the line";
}

using System.Text.Json;
using Chamber.Core;

namespace Chamber.Storage.Moving;

/// <summary>A value in JSON with the path to it, so that whatever is wrong with it can be found.</summary>
internal readonly record struct JsonPlace(JsonElement Element, string Path)
{
    /// <summary>A member; null when there is none, or it says nothing.</summary>
    public JsonPlace? Find(string name)
    {
        if (Element.ValueKind != JsonValueKind.Object)
        {
            throw Wrong("write an object in curly brackets here");
        }

        return Letters<JsonElement?>(Element, element =>
            element.TryGetProperty(name, out var member) && member.ValueKind != JsonValueKind.Null ? member : null) is { } found
            ? new(found, Path.Length == 0 ? name : $"{Path}.{name}") : null;
    }

    public JsonPlace Required(string name) => Find(name)
        ?? throw new FormatException($"{(Path.Length == 0 ? name : $"{Path}.{name}")}: it is missing; ask for the file again.");

    public IEnumerable<JsonPlace> Items()
    {
        var path = Path;
        return Element.ValueKind == JsonValueKind.Array
            ? Element.EnumerateArray().Select((item, at) => new JsonPlace(item, $"{path}[{at}]"))
            : throw Wrong("write a list in square brackets here");
    }

    public string Text() => Letters(Element, element =>
        element.ValueKind == JsonValueKind.String ? element.GetString()! : null) ?? throw Wrong("write text in quotes here");

    /// <summary>A random name of so many hexadecimal digits.</summary>
    public string Name(int length)
    {
        var text = Text();
        return text.Length == length && text.All(char.IsAsciiHexDigitLower) ? text
            : throw Wrong($"a home's name here is {length} digits of 0 to 9 and a to f; ask for the file again");
    }

    public double Number(Bound bound)
    {
        if (Element.ValueKind != JsonValueKind.Number)
        {
            throw Wrong("write a number here");
        }

        return bound.WhyNot(Element.GetDouble()) is { } why ? throw new FormatException($"{Path}: {why}") : Element.GetDouble();
    }

    public int Whole(Bound bound) => Number(bound) is var number && number == Math.Truncate(number) ? (int)number
        : throw Wrong("write a whole number here");

    public T Choice<T>()
        where T : struct, Enum
    {
        var typed = Text();
        var words = Enum.GetValues<T>().ToDictionary(value => JsonNamingPolicy.CamelCase.ConvertName(value.ToString()));
        return words.TryGetValue(typed, out var value) ? value : throw Wrong($"write one of {string.Join(", ", words.Keys)}");
    }

    public T Read<T>(Func<string, T> read)
    {
        try
        {
            return read(Text());
        }
        catch (FormatException problem) when (!problem.Message.StartsWith(Path, StringComparison.Ordinal))
        {
            throw new FormatException($"{Path}: {problem.Message}", problem);
        }
    }

    // Half of a pair such as \ud800 stands for no letter, and is found only when it is asked for.
    private T Letters<T>(JsonElement element, Func<JsonElement, T> ask)
    {
        try
        {
            return ask(element);
        }
        catch (InvalidOperationException)
        {
            throw Wrong("a text here holds what is no letter; ask for the file again");
        }
    }

    private FormatException Wrong(string fix) => new($"{(Path.Length == 0 ? "the whole file" : Path)}: {fix}.");
}

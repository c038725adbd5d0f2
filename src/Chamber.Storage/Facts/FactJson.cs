using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Storage.Facts;

/// <summary>
/// Facts as JSON: camelCase names, words of the domain in kebab-case, times in UTC to the millisecond, days as 2027-05-17, lengths of
/// time in seconds, temperature differences in K. What is not known is left out.
/// </summary>
public static class FactJson
{
    /// <summary>The version of these forms. A form that changes gets the next one, and the old one is still read.</summary>
    public const int Version = 1;

    private static readonly InstantPattern Millisecond = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss.fff'Z'");

    private static readonly FactContext Context = new(Make());

    /// <summary>The form of each kind.</summary>
    public static JsonSerializerOptions Options => Context.Options;

    /// <summary>The body of a fact.</summary>
    public static string Write(Fact fact)
    {
        ArgumentNullException.ThrowIfNull(fact);
        if (fact is Corrected corrected)
        {
            return new JsonObject
            {
                ["entry"] = corrected.Entry,
                ["kind"] = FactKinds.NameOf(corrected.Right),
                ["right"] = JsonNode.Parse(Write(corrected.Right)),
            }.ToJsonString(Options);
        }

        return JsonSerializer.Serialize(fact, fact.GetType(), Context);
    }

    /// <summary>Reads a fact back.</summary>
    /// <param name="kind">The name of its kind.</param>
    /// <param name="body">Its body.</param>
    /// <exception cref="FormatException">There is no such kind, or the body is not of its form.</exception>
    public static Fact Read(string kind, string body)
    {
        if (!FactKinds.All.TryGetValue(kind, out var type))
        {
            throw new FormatException($"There is no kind of fact \"{kind}\".");
        }

        try
        {
            if (type == typeof(Corrected))
            {
                using var document = JsonDocument.Parse(body);
                var root = document.RootElement;
                return new Corrected(
                    root.GetProperty("entry").GetInt64(), Read(root.GetProperty("kind").GetString()!,
                        root.GetProperty("right").GetRawText()));
            }

            return (Fact?)JsonSerializer.Deserialize(body, type, Context) ?? throw new FormatException($"The body of a {kind} is empty.");
        }
        catch (Exception problem) when (problem is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            throw new FormatException($"This is no {kind}: {Sentence(problem)}", problem);
        }
    }

    /// <summary>An entry as it will be read back: times are kept to the millisecond.</summary>
    public static FactEntry AsKept(FactEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return entry with
        {
            Fact = Read(FactKinds.NameOf(entry.Fact), Write(entry.Fact)),
            At = Cut(entry.At),
            WrittenAt = Cut(entry.WrittenAt),
        };
    }

    private static Instant Cut(Instant at) => Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());

    // What the reader says speaks of types.
    private static string Sentence(Exception problem)
    {
        var path = (problem as JsonException)?.Path?.TrimStart('$', '.') ?? "";
        return problem.Message switch
        {
            var said when said.StartsWith("The JSON value could not", StringComparison.Ordinal) =>
                path.Length == 0 ? "it must be one object in curly brackets." : $"{path} is of another kind than is wanted there.",
            var said when said.StartsWith("The JSON property", StringComparison.Ordinal) => $"it has no {said.Split('\'')[1]}.",
            var said when said.StartsWith("JSON deserialization", StringComparison.Ordinal) => $"{said.Split('\'')[3]} is missing.",
            var said => problem.InnerException is FormatException inner ? inner.Message : said.Split(" Path:")[0],
        };
    }

    private static JsonSerializerOptions Make() => new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters =
        {
            new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false),
            new Text<Instant>(text => Time(text), Millisecond.Format),
            new Text<LocalDate>(text => LocalDatePattern.Iso.Parse(text).Value, LocalDatePattern.Iso.Format),
            new Text<ProbeId>(text => new(text), id => id.Text),
            new Text<SpotId>(text => new(text), id => id.Text),
            new Text<LotId>(text => new(text), id => id.Text),
            new Text<BatchId>(text => new(text), id => id.Text),
            new Text<PhotoMarks>(PhotoMarks.Parse, marks => marks.ToString()),
            new Text<CropId>(text => new(text), id => id.Text),
            new Number<double>(number => double.IsFinite(number) ? number : throw new ArgumentOutOfRangeException(nameof(number)),
                number => number),
            new Number<Duration>(seconds => Duration.FromSeconds(seconds), length => length.TotalSeconds),
            new Number<TemperatureDifference>(TemperatureDifference.FromKelvins, difference => difference.Kelvins),
        },
    };

    private static Instant Time(string text) => InstantPattern.ExtendedIso.Parse(text) is { Success: true } parsed
        ? parsed.Value
        : throw new FormatException($"\"{text}\" is no time: write it as 2027-03-01T07:00:00Z.");

    private sealed class Text<T>(Func<string, T> read, Func<T, string> write) : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var text = reader.GetString() ?? throw new JsonException("A text is missing.");
            try
            {
                return read(text);
            }
            catch (Exception problem) when (problem is FormatException or UnparsableValueException)
            {
                throw new JsonException(problem.Message, new FormatException(problem.Message));
            }
        }

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(write(value));
    }

    private sealed class Number<T>(Func<double, T> read, Func<T, double> write) : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            var number = reader.GetDouble();
            try
            {
                return read(number);
            }
            catch (ArgumentException problem)
            {
                var said = $"{number.ToString(CultureInfo.InvariantCulture)} is beyond any bound.";
                throw new JsonException(said, new FormatException(said, problem));
            }
        }

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteNumberValue(write(value));
    }
}

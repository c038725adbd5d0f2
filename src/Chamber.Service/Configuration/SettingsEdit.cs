using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Chamber.Service.Configuration;

/// <summary>Changes one value of chamber.json and leaves every other byte as somebody wrote it: order, comments, blank lines.</summary>
internal static partial class SettingsEdit
{
    private static readonly JsonReaderOptions Lenient = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    private static readonly JsonSerializerOptions Written =
        new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <param name="text">The settings; one JSON object.</param>
    /// <param name="path">The key, as its steps from the outermost object.</param>
    /// <param name="value">What it is to be; null writes <c>null</c>.</param>
    /// <exception cref="JsonException">The text is not JSON.</exception>
    public static string Put(string text, IReadOnlyList<string> path, JsonNode? value)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        var reader = new Utf8JsonReader(bytes, Lenient);
        reader.Read();
        var step = 0;
        var (end, members) = (reader.BytesConsumed, 0);
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            var wanted = reader.ValueTextEquals(path[step]);
            reader.Read();
            var begin = reader.TokenStartIndex;
            if (wanted && step < path.Count - 1 && reader.TokenType == JsonTokenType.StartObject)
            {
                step++;
                (end, members) = (reader.BytesConsumed, 0);
                continue;
            }

            reader.Skip();
            if (wanted)
            {
                return Splice(bytes, begin, reader.BytesConsumed, Show(Nested(path, step + 1, value), step + 1));
            }

            (end, members) = (reader.BytesConsumed, members + 1);
        }

        var member = $"\n{Indent(step + 1)}{JsonSerializer.Serialize(path[step])}: {Show(Nested(path, step + 1, value), step + 1)}";
        return members == 0 ? Splice(bytes, end, end, $"{member}\n{Indent(step)}")
            : Append(Part(bytes, 0, end), Part(bytes, end, bytes.Length), member);
    }

    // A remark on the line of the member before stays with that one.
    private static string Append(string before, string after, string member)
    {
        var remark = Remark().Match(after);
        return before + (remark.Groups["comma"].Success ? "" : ",") + remark.Value.TrimEnd() + member + after[remark.Length..];
    }

    private static JsonNode? Nested(IReadOnlyList<string> path, int from, JsonNode? value) =>
        path.Skip(from).Reverse().Aggregate(value?.DeepClone(), (inner, step) => new JsonObject { [step] = inner });

    private static string Show(JsonNode? value, int depth) =>
        (value?.ToJsonString(Written) ?? "null").ReplaceLineEndings("\n" + Indent(depth));

    private static string Indent(int depth) => new(' ', 2 * depth);

    private static string Splice(byte[] bytes, long from, long to, string text) =>
        Part(bytes, 0, from) + text + Part(bytes, to, bytes.Length);

    private static string Part(byte[] bytes, long from, long to) => Encoding.UTF8.GetString(bytes, (int)from, (int)(to - from));

    [GeneratedRegex(@"^(?<comma>,)?([ \t]*(//[^\n]*|/\*[^\n]*?\*/))?")]
    private static partial Regex Remark();
}

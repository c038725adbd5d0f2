using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Core.Facts;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Storage.Facts;

/// <summary>An entry as one line of JSON, with all that stands beside its body: how a home is taken out and read in again.</summary>
public static class FactLine
{
    private static readonly InstantPattern Millisecond = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss.fff'Z'");

    public static string Write(FactEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return new JsonObject
        {
            ["number"] = entry.Number,
            ["act"] = entry.Act,
            ["at"] = Millisecond.Format(entry.At),
            ["written"] = Millisecond.Format(entry.WrittenAt),
            ["who"] = entry.By.Who,
            ["way"] = Word.Of(entry.By.Way),
            ["kind"] = FactKinds.NameOf(entry.Fact),
            ["version"] = FactJson.Version,
            ["body"] = JsonNode.Parse(FactJson.Write(entry.Fact)),
        }.ToJsonString(FactJson.Options);
    }

    /// <exception cref="FormatException">It is no such line; the message says why.</exception>
    public static FactEntry Read(string line)
    {
        try
        {
            var entry = JsonNode.Parse(line)!.AsObject();
            var version = entry["version"]!.GetValue<int>();
            return version > FactJson.Version
                ? throw new FormatException($"a newer Chamber wrote it (version {version}; this one knows {FactJson.Version}).")
                : new(
                    entry["number"]!.GetValue<long>(), entry["act"]!.GetValue<long>(),
                    FactJson.Read(entry["kind"]!.GetValue<string>(), entry["body"]!.ToJsonString()),
                    Time(entry["at"]!), Time(entry["written"]!), new(entry["who"]!.GetValue<string>(),
                        Word.Read<WriteWay>(entry["way"]!.GetValue<string>())));
        }
        catch (Exception problem) when (problem is JsonException or NullReferenceException or InvalidOperationException)
        {
            throw new FormatException("it is no entry of a home.", problem);
        }
    }

    private static Instant Time(JsonNode time) => InstantPattern.ExtendedIso.Parse(time.GetValue<string>()).GetValueOrThrow();
}

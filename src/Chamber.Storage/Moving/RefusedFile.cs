using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Core.Climate;
using Chamber.Storage.Facts;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Storage.Moving;

/// <summary>What was refused of a home, as JSON lines: how often, and then the refusals that are kept raw, oldest first. A whole home takes
/// them along (<see cref="HomeFolder"/>).</summary>
public static class RefusedFile
{
    /// <summary>Its name in the folder.</summary>
    public const string Name = "refused.jsonl";

    /// <summary>Writes it.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="records">Where it is recorded.</param>
    /// <param name="cancel">Ends it.</param>
    public static async ValueTask WriteAsync(string folder, IHomeRecords records, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(records);
        var counts = await records.RefusalCountsAsync(cancel);
        var kept = await records.RefusalsAsync(int.MaxValue, cancel);
        await File.WriteAllLinesAsync(Path.Combine(folder, Name), counts.Select(Line).Concat(kept.Reverse().Select(Line)), cancel);
    }

    /// <summary>Reads it; of a folder without one there is nothing.</summary>
    /// <exception cref="FormatException">A line is none; the message names it.</exception>
    public static (IReadOnlyList<RefusalCount> Counts, IReadOnlyList<Refusal> Kept) Read(string folder)
    {
        var (path, counts, kept) = (Path.Combine(folder, Name), new List<RefusalCount>(), new List<Refusal>());
        foreach (var (i, line) in (File.Exists(path) ? TextLines.Of(path) : []).Index())
        {
            try
            {
                var cells = JsonNode.Parse(line)!.AsObject();
                if (cells["count"] is { } count)
                {
                    counts.Add(new(ProbeOf(cells), ReasonOf(cells), Counted(count), Time(cells["last"]!)));
                }
                else
                {
                    kept.Add(new(Time(cells["received"]!), Text(cells["source"]!), ProbeOf(cells), cells["quantity"]?.GetValue<string>(),
                        ReasonOf(cells), Text(cells["raw"]!), Text(cells["fix"]!)));
                }
            }
            catch (Exception problem) when (problem is FormatException or ArgumentException)
            {
                throw new FormatException($"{path} line {i + 1}: {problem.Message}", problem);
            }
            catch (Exception problem) when (problem is JsonException or NullReferenceException or InvalidOperationException)
            {
                throw new FormatException($"{path} line {i + 1}: it is nothing that was refused.", problem);
            }
        }

        return (counts, kept);
    }

    private static string Line(RefusalCount one) => new JsonObject
    {
        ["probe"] = one.Probe?.Text,
        ["reason"] = Word.Of(one.Reason),
        ["count"] = one.Count,
        ["last"] = InstantPattern.ExtendedIso.Format(one.LastAt),
    }.ToJsonString(FactJson.Options);

    private static string Line(Refusal one) => new JsonObject
    {
        ["received"] = InstantPattern.ExtendedIso.Format(one.ReceivedAt),
        ["source"] = one.Source,
        ["probe"] = one.Probe?.Text,
        ["quantity"] = one.Quantity,
        ["reason"] = Word.Of(one.Reason),
        ["raw"] = one.Raw,
        ["fix"] = one.Fix,
    }.ToJsonString(FactJson.Options);

    private static ProbeId? ProbeOf(JsonObject cells) => cells["probe"] is { } probe ? new(probe.GetValue<string>()) : null;

    private static RefusalReason ReasonOf(JsonObject cells) => Word.Read<RefusalReason>(Text(cells["reason"]!));

    private static long Counted(JsonNode count) => count.GetValue<long>() is > 0 and var number ? number
        : throw new FormatException(string.Create(CultureInfo.InvariantCulture, $"count {count}: something was refused once at least."));

    private static string Text(JsonNode cell) => cell.GetValue<string>();

    private static Instant Time(JsonNode cell) => InstantPattern.ExtendedIso.Parse(Text(cell)).GetValueOrThrow();
}

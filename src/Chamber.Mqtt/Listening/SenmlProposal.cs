using System.Text.Json;
using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;

namespace Chamber.Mqtt.Listening;

/// <summary>A mapping for SenML JSON (RFC 8428), told by its structure: an array of records that have only the labels of the
/// standard.</summary>
internal static class SenmlProposal
{
    private const int RecordsMax = 200;
    private const int VersionMax = 10;

    // RFC 8428 table 1, and the unit extension of RFC 8798.
    private static readonly string[] Labels = ["bn", "bt", "bu", "bv", "bs", "bver", "n", "u", "v", "vs", "vb", "vd", "s", "t", "ut"];

    /// <summary>The proposal; null where the message is no SenML, or holds nothing that Chamber reads.</summary>
    public static MappingProposal? Of(string topic, JsonElement root)
    {
        if (!IsSenml(root))
        {
            return null;
        }

        var found = new List<(string Name, string Device, FoundField Field, bool HasUnit)>();
        var @base = SenmlBase.First;
        foreach (var (at, record) in root.EnumerateArray().Take(RecordsMax).Index())
        {
            if (@base.TryRead(record, VersionMax) is not null)
            {
                return null;
            }

            if (!SenmlBase.CarriesNoValue(record) && Field(@base, record, at) is { } field)
            {
                found.Add(field);
            }
        }

        return found.Exists(one => one.Field.Quantity != Quantity.Battery) ? Propose(topic, found) : null;
    }

    private static bool IsSenml(JsonElement root) => root.ValueKind == JsonValueKind.Array && root.GetArrayLength() > 0
        && root.EnumerateArray().Take(RecordsMax).All(record => record.ValueKind == JsonValueKind.Object
            && record.EnumerateObject().Any() && record.EnumerateObject().All(member => Labels.Contains(member.Name)))
        && root.EnumerateArray().Any(record => record.TryGetProperty("v", out _) || record.TryGetProperty("bv", out _));

    // The unit says what is measured; otherwise the last word of the name does.
    private static (string, string, FoundField, bool)? Field(in SenmlBase @base, JsonElement record, int at)
    {
        if (!@base.TryValue(record, out var number, out _))
        {
            return null;
        }

        var name = @base.NameOf(record);
        var word = name.Split([':', '/', '_', '-', '.', ' '], StringSplitOptions.RemoveEmptyEntries) is [.., var last] ? last : "";
        var written = @base.UnitOf(record);
        var known = DeclaredUnit.TryParse(written, out var unit) ? unit : null;
        if ((known?.Quantity ?? QuantityWords.Find(word)) is not { } quantity)
        {
            return null;
        }

        var code = known?.Code ?? QuantityWords.Unit(quantity, word, written, number).Code;
        var device = QuantityWords.Find(word) is null ? name : name[..^word.Length].TrimEnd(':', '/', '_', '-', '.', ' ');
        return (name, device, new(quantity, $"/{at}/v", code, number), known is not null);
    }

    private static MappingProposal Propose(string topic, List<(string Name, string Device, FoundField Field, bool HasUnit)> found)
    {
        // Records of several devices in one message name the probe themselves.
        var isMany = found.Select(one => one.Device).Distinct().Count() > 1;
        var names = found.DistinctBy(one => one.Name).ToDictionary(one => one.Name, one => new SenmlName(
            one.HasUnit && DeclaredUnit.TryParse(one.Field.Unit, out _) ? null : one.Field.Quantity,
            isMany ? ProbeOf(one.Device) : null,
            one.HasUnit ? null : one.Field.Unit));
        var mapping = ProbePlace.Of(topic.Split('/')).Put(new() { Form = PayloadForm.Senml, Names = names });
        return new(mapping, [.. found.DistinctBy(one => one.Name).Select(one => one.Field)],
            [.. found.Where(one => !one.HasUnit).Select(one => one.Field.Quantity).Distinct()]);
    }

    private static string ProbeOf(string device)
    {
        var last = device.Split(':', '/').LastOrDefault(part => part.Length > 0) ?? "";
        var name = string.Concat(last.Where(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_' or '.'))
            .TrimStart('-', '_', '.');
        return Identifier.IsValid(name) ? name : "probe-1";
    }
}

using System.Text.Json;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Mqtt.Decoding;

/// <summary>The base values in force at a SenML record (RFC 8428 section 4.1), and the record resolved with them.</summary>
internal struct SenmlBase
{
    /// <summary>RFC 8428 section 4.5.3: a time below this is relative to now.</summary>
    private const double AbsoluteFrom = 1 << 28;

    private string name;
    private double time;
    private bool hasTime;
    private string? unit;
    private double value;

    public static SenmlBase First => new() { name = string.Empty };

    /// <summary>Takes in what the record sets. Answers what is wrong with it, or null.</summary>
    public string? TryRead(JsonElement record, int versionMax)
    {
        if (record.ValueKind != JsonValueKind.Object)
        {
            return "A SenML record is a JSON object.";
        }

        foreach (var member in record.EnumerateObject())
        {
            if (TryRead(member, versionMax) is { } fault)
            {
                return fault;
            }
        }

        return null;
    }

    /// <summary>A record may hold base values only, or text, a flag or data, which no quantity here is.</summary>
    public static bool CarriesNoValue(JsonElement record) =>
        !record.TryGetProperty("v"u8, out _)
        && (!record.TryGetProperty("n"u8, out _) || record.TryGetProperty("vs"u8, out _) || record.TryGetProperty("vb"u8, out _)
            || record.TryGetProperty("vd"u8, out _) || record.TryGetProperty("s"u8, out _));

    public readonly string NameOf(JsonElement record) =>
        record.TryGetProperty("n"u8, out var own) && own.ValueKind == JsonValueKind.String ? name + own.GetString() : name;

    public readonly string? UnitOf(JsonElement record) =>
        record.TryGetProperty("u"u8, out var own) && own.ValueKind == JsonValueKind.String ? own.GetString() : unit;

    public readonly bool TryValue(JsonElement record, out double number, out RefusalReason reason)
    {
        number = double.NaN;
        reason = RefusalReason.Missing;
        if (!record.TryGetProperty("v"u8, out var own) || !FieldText.TryNumber(own, out number, out reason))
        {
            return false;
        }

        number += value;
        return true;
    }

    /// <summary>The record's time. Without one, or relative to now, it was measured as it arrived: the record itself gives no
    /// time.</summary>
    public readonly PayloadTime TimeOf(JsonElement record, Instant now)
    {
        var own = 0.0;
        var hasOwn = record.TryGetProperty("t"u8, out var member);
        if (hasOwn && !(member.ValueKind == JsonValueKind.Number && member.TryGetDouble(out own)))
        {
            return PayloadTime.Unreadable(member.GetRawText());
        }

        var seconds = time + own;
        if (seconds >= AbsoluteFrom || !(Math.Abs(seconds) < AbsoluteFrom))
        {
            return PayloadTime.FromNumber(seconds, TimeForm.EpochSeconds);
        }

        return (hasOwn || hasTime) && seconds != 0
            ? new(true, now + Duration.FromMilliseconds(Math.Round(seconds * 1000)), string.Empty)
            : PayloadTime.None;
    }

    private string? TryRead(JsonProperty member, int versionMax)
    {
        if (member.NameEquals("bn"u8))
        {
            name = member.Value.ValueKind == JsonValueKind.String ? member.Value.GetString()! : string.Empty;
        }
        else if (member.NameEquals("bu"u8))
        {
            unit = member.Value.ValueKind == JsonValueKind.String ? member.Value.GetString() : null;
        }
        else if (member.NameEquals("bt"u8))
        {
            hasTime = member.Value.ValueKind == JsonValueKind.Number && member.Value.TryGetDouble(out time);
            return hasTime ? null : "The SenML base time bt is a number.";
        }
        else if (member.NameEquals("bv"u8))
        {
            return member.Value.ValueKind == JsonValueKind.Number && member.Value.TryGetDouble(out value) ? null
                : "The SenML base value bv is a number.";
        }
        else if (member.NameEquals("bver"u8))
        {
            return member.Value.ValueKind == JsonValueKind.Number && member.Value.TryGetInt32(out var version) && version <= versionMax
                ? null
                : $"SenML up to version {versionMax} is read.";
        }
        else if (member.Name.EndsWith('_'))
        {
            // RFC 8428 section 4.4: a label that ends in _ must be understood or the pack refused.
            return $"The SenML label {member.Name} must be understood, and is not.";
        }

        return null;
    }
}

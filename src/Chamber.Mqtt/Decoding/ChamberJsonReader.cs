using System.Text;
using System.Text.Json;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// Chamber's own payload, straight from bytes: one object with <c>temperature</c> (°C), <c>humidity</c> (%), <c>moisture</c> (raw),
/// <c>battery</c> (%) and <c>at</c>, each optional. Other members are passed over.
/// </summary>
internal sealed class ChamberJsonReader(bool unitConfirmed) : PayloadReader
{
    private static readonly JsonReaderOptions Strict = new() { MaxDepth = 16 };

    public override void Read(in IncomingMessage message, ProbeMemory? probe, DecodingContext context, DecodedBatch into)
    {
        var reader = new Utf8JsonReader(message.Payload.Span, Strict);
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
        {
            into.Refuse(message, probe!.Id, RefusalReason.Malformed, "Send one JSON object, such as {\"temperature\": 21.5}.");
            return;
        }

        var raw = default(RawReading);
        var time = PayloadTime.None;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            if (UnitOf(ref reader) is { } unit)
            {
                reader.Read();
                ReadNumber(ref reader, unit, ref raw, message, probe!, into);
            }
            else if (reader.ValueTextEquals("at"u8))
            {
                reader.Read();
                time = ReadTime(ref reader);
            }
            else
            {
                reader.Read();
                reader.Skip();
            }
        }

        // What stands after the object makes the whole text malformed.
        reader.Read();
        context.Emit(raw, time, unitConfirmed, message, probe!, into);
    }

    private static DeclaredUnit? UnitOf(ref Utf8JsonReader reader)
    {
        if (reader.ValueTextEquals("temperature"u8))
        {
            return DeclaredUnit.Celsius;
        }

        if (reader.ValueTextEquals("humidity"u8))
        {
            return DeclaredUnit.HumidityPercent;
        }

        if (reader.ValueTextEquals("moisture"u8))
        {
            return DeclaredUnit.MoistureRaw;
        }

        return reader.ValueTextEquals("battery"u8) ? DeclaredUnit.BatteryPercent : null;
    }

    private static void ReadNumber(
        ref Utf8JsonReader reader, DeclaredUnit unit, ref RawReading raw, in IncomingMessage message, ProbeMemory probe, DecodedBatch into)
    {
        if (FieldText.TryNumber(ref reader, out var number, out var reason))
        {
            raw.Set(number, unit);
            return;
        }

        RefuseField(message, probe, unit.Quantity, reason, DecodedBatch.TextOf(reader.ValueSpan), into);
    }

    private static PayloadTime ReadTime(ref Utf8JsonReader reader)
    {
        switch (reader.TokenType)
        {
            case JsonTokenType.String:
                return PayloadTime.FromText(reader.ValueSpan);
            case JsonTokenType.Number:
                return PayloadTime.FromNumberOfEitherSize(reader.GetDouble());
            case JsonTokenType.Null:
                return PayloadTime.None;
            default:
                var text = Encoding.UTF8.GetString(reader.ValueSpan);
                reader.Skip();
                return PayloadTime.Unreadable(text);
        }
    }
}

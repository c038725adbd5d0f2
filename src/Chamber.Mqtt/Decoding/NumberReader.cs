using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>A payload that is a number and nothing else, of a declared quantity and unit.</summary>
internal sealed class NumberReader(DeclaredUnit unit, bool unitConfirmed) : PayloadReader
{
    public override void Read(in IncomingMessage message, ProbeMemory? probe, DecodingContext context, DecodedBatch into)
    {
        if (!FieldText.TryNumber(message.Payload.Span, out var number, out var reason))
        {
            RefuseField(message, probe!, unit.Quantity, reason, DecodedBatch.TextOf(message.Payload.Span), into);
            return;
        }

        var raw = default(RawReading);
        raw.Set(number, unit);
        context.Emit(raw, PayloadTime.None, unitConfirmed, message, probe!, into);
    }
}

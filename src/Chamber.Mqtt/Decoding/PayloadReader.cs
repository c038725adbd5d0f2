using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>What a decoder of one payload form works with.</summary>
internal sealed class DecodingContext(DecoderOptions options, ProbeRegister probes)
{
    public DecoderOptions Options { get; } = options;

    public ProbeRegister Probes { get; } = probes;

    /// <summary>Judges the time and every number, and adds what can be used.</summary>
    public void Emit(RawReading raw, PayloadTime time, bool unitConfirmed, in IncomingMessage message, ProbeMemory probe, DecodedBatch into)
    {
        if (raw.Temperature is { } said && Options.SeenUnit?.Invoke(probe.Id) is { } unit)
        {
            raw.Set(said.Number, unit);
            unitConfirmed = true;
        }

        var (measuredAt, clock) = Options.Time.Judge(time, message, probe.Id, into, Options.DoubtsArrival?.Invoke() == true);
        var origin = new ReadingOrigin(probe.Id, measuredAt, message.ReceivedAt, clock, message.Topic,
            probe.Last?.NoLaterThan(message.ReceivedAt), unitConfirmed);
        var reading = raw.Screen(origin, into.RefusalList);
        if (reading.IsEmpty)
        {
            return;
        }

        if (message.Retained && clock != ClockSource.Payload)
        {
            into.Refuse(message, probe.Id, RefusalReason.RetainedWithoutTime);
            into.Add(reading, isLastKnown: true);
            return;
        }

        reading = probe.Apart(reading);
        probe.Remember(reading);
        into.Add(reading, isLastKnown: false);
    }
}

/// <summary>Decodes one payload form. Throws <see cref="System.Text.Json.JsonException"/> on text that is no JSON, and nothing
/// else.</summary>
internal abstract class PayloadReader
{
    /// <param name="message">The message; its payload is neither empty nor too large.</param>
    /// <param name="probe">Whose it is by its topic; null when the payload says so.</param>
    /// <param name="context">The shared parts.</param>
    /// <param name="into">Takes in what comes out.</param>
    public abstract void Read(in IncomingMessage message, ProbeMemory? probe, DecodingContext context, DecodedBatch into);

    protected static void RefuseField(in IncomingMessage message, ProbeMemory probe, Quantity quantity, RefusalReason reason, string raw,
        DecodedBatch into) =>
        into.Refuse(message, probe.Id, Fixes.NameOf(quantity), reason, raw,
            reason == RefusalReason.Malformed ? "Send a number alone, with a decimal point and without its unit." : null);
}

using Chamber.Mqtt.Decoding;

namespace Chamber.Mqtt.Intake;

/// <summary>A message on its way in, and who waits for it to be committed.</summary>
/// <param name="Message">The message.</param>
/// <param name="Receipt">Called when the message is committed; null when nobody waits (QoS 0).</param>
/// <param name="PacketId">The sender's number for it.</param>
internal readonly record struct Arrival(IncomingMessage Message, IReceipt? Receipt = null, ushort PacketId = 0);

/// <summary>A message that was decoded into a batch.</summary>
/// <param name="Arrival">The message.</param>
/// <param name="End">How far the batch was filled after it.</param>
internal readonly record struct Taken(Arrival Arrival, BatchMark End);

/// <summary>Somebody who acknowledges messages once they are committed: a client to its broker, or the built-in broker to a
/// client.</summary>
internal interface IReceipt
{
    /// <summary>The message is committed. Called in the order of arrival.</summary>
    void Committed(ushort packetId);

    /// <summary>Everything committed so far may be sent. Never throws: a lost connection means that the message comes again.</summary>
    ValueTask FlushAsync();
}

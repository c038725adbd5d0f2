using NodaTime;

namespace Chamber.Mqtt.Decoding;

/// <summary>One message as it came.</summary>
/// <param name="Topic">Its topic.</param>
/// <param name="Payload">Its bytes; not kept after decoding.</param>
/// <param name="Retained">The broker replayed it: its time of arrival says nothing about when it was measured.</param>
/// <param name="ReceivedAt">When it arrived here.</param>
public readonly record struct IncomingMessage(string Topic, ReadOnlyMemory<byte> Payload, bool Retained, Instant ReceivedAt);

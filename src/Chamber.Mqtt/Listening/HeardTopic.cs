namespace Chamber.Mqtt.Listening;

/// <summary>A topic on which something was said.</summary>
/// <param name="Topic">The topic.</param>
/// <param name="Messages">How many messages were heard, a kept one included.</param>
/// <param name="Payload">The last of them, at most <see cref="BrokerEar.PayloadMax"/> bytes of it.</param>
/// <param name="IsWhole">Whether that is all of it.</param>
public sealed record HeardTopic(string Topic, long Messages, ReadOnlyMemory<byte> Payload, bool IsWhole);

/// <summary>What was heard in some time.</summary>
/// <param name="Topics">Each topic, by name.</param>
/// <param name="LeftOut">Messages on further topics than can be held.</param>
public sealed record Heard(IReadOnlyList<HeardTopic> Topics, long LeftOut);

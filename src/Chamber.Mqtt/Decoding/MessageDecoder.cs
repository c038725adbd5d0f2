using System.Text.Json;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// Turns messages into readings and refusals. Never throws on what a message holds; remembers each probe's last temperature to
/// tell its unit by. Belongs to one thread.
/// </summary>
public sealed class MessageDecoder
{
    private readonly TopicMap map;
    private readonly DecoderOptions options;
    private readonly DecodingContext context;
    private readonly Dictionary<string, TopicRoute> routes = new(StringComparer.Ordinal);
    private readonly long[] refused = new long[Enum.GetValues<RefusalReason>().Length];
    private object resolvedBy;

    public MessageDecoder(TopicMap map, DecoderOptions? options = null)
    {
        this.map = map;
        resolvedBy = map.State;
        this.options = options ?? new();
        context = new(this.options, new(this.options));
    }

    /// <summary>Messages decoded so far, whatever came of them.</summary>
    public long Messages { get; private set; }

    /// <summary>Readings that came out.</summary>
    public long Readings { get; private set; }

    /// <summary>Refusals counted by reason; also those that a message had too many of to be listed.</summary>
    public IReadOnlyDictionary<RefusalReason, long> Refused =>
        Enum.GetValues<RefusalReason>().ToDictionary(reason => reason, reason => Volatile.Read(ref refused[(int)reason]));

    /// <summary>Decodes one message into the batch.</summary>
    public void Decode(in IncomingMessage message, DecodedBatch into)
    {
        ArgumentNullException.ThrowIfNull(into);
        var readingsBefore = into.Readings.Count;
        var refusalsBefore = into.Refusals.Count;
        var lastKnownBefore = into.LastKnown.Count;
        var route = RouteOf(message.Topic);
        if (route.Refused is { } reason)
        {
            into.Refuse(message, null, reason);
        }
        else if (message.Payload.IsEmpty)
        {
            into.Refuse(message, route.Probe?.Id, RefusalReason.Missing,
                "The payload is empty: a cleared retained message, or a sensor with nothing to say.");
        }
        else if (message.Payload.Length > options.PayloadLengthMax)
        {
            into.Refuse(message, route.Probe?.Id, RefusalReason.TooLarge);
        }
        else
        {
            Read(message, route, into);
        }

        if (into.Readings.Count == readingsBefore && into.Refusals.Count == refusalsBefore && into.LastKnown.Count == lastKnownBefore)
        {
            into.Refuse(message, route.Probe?.Id, RefusalReason.Missing, "The payload holds none of the quantities that its form knows.");
        }

        Count(into, readingsBefore, refusalsBefore);
    }

    /// <summary>Counts a message that was set aside after all.</summary>
    internal void CountPutAside() => refused[(int)RefusalReason.NotStored]++;

    private void Read(in IncomingMessage message, TopicRoute route, DecodedBatch into)
    {
        if (TryRead(message, route, into))
        {
            return;
        }

        if (BareWords.Replace(message.Payload.Span) is not { } corrected || !TryRead(message with { Payload = corrected }, route, into))
        {
            into.Refuse(message, route.Probe?.Id, RefusalReason.Malformed);
        }
    }

    private bool TryRead(in IncomingMessage message, TopicRoute route, DecodedBatch into)
    {
        var refusalsBefore = into.Refusals.Count;
        try
        {
            route.Reader!.Read(message, route.Probe, context, into);
            return true;
        }
        catch (Exception exception) when (exception is JsonException or InvalidOperationException)
        {
            // No JSON; the second is how System.Text.Json says so of text that is no valid Unicode. What was said of single
            // fields until then is part of the same fault. Readings are added last, so there are none.
            into.RefusalList.RemoveRange(refusalsBefore, into.Refusals.Count - refusalsBefore);
            return false;
        }
    }

    private TopicRoute RouteOf(string topic)
    {
        if (map.State is var state && state != resolvedBy)
        {
            routes.Clear();
            resolvedBy = state;
        }

        if (routes.TryGetValue(topic, out var known))
        {
            return known;
        }

        var route = map.Resolve(topic, context.Probes);

        // An unknown probe may be taken in later, so only what is settled is remembered.
        if (route.Refused != RefusalReason.UnknownProbe && routes.Count < options.TopicsMax)
        {
            routes.Add(topic, route);
        }

        return route;
    }

    private void Count(DecodedBatch into, int readingsBefore, int refusalsBefore)
    {
        Messages++;
        into.Messages++;
        Readings += into.Readings.Count - readingsBefore;
        for (var index = refusalsBefore; index < into.Refusals.Count; index++)
        {
            refused[(int)into.Refusals[index].Reason]++;
        }

        var most = refusalsBefore + DecodedBatch.RefusalsPerMessageMax;
        if (into.Refusals.Count > most)
        {
            into.RefusalList.RemoveRange(most, into.Refusals.Count - most);
        }
    }
}

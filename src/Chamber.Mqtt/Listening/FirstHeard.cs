using Chamber.Core;

namespace Chamber.Mqtt.Listening;

/// <summary>Topics that nobody reads, each told once: so many at most, so that a busy house does not fill the refusals.</summary>
internal sealed class FirstHeard
{
    private readonly Lock gate = new();
    private readonly HashSet<string> topics = new(StringComparer.Ordinal);

    /// <summary>Whether there is no room to tell of another.</summary>
    public bool IsFull
    {
        get
        {
            lock (gate)
            {
                return topics.Count >= Bounds.UnmappedTopics.High;
            }
        }
    }

    /// <summary>Whether this is the first message on a topic, and there is room to tell of it.</summary>
    public bool IsNew(string topic)
    {
        lock (gate)
        {
            return topics.Count < Bounds.UnmappedTopics.High && topics.Add(topic);
        }
    }
}

using System.Collections.Concurrent;

namespace Chamber.Mqtt.Broker;

/// <summary>What the bounds of the built-in broker refused since the start, by bound.</summary>
public sealed class BrokerMetrics
{
    private readonly ConcurrentDictionary<string, long> refused = new(StringComparer.Ordinal);

    /// <summary>How often each bound refused something; a bound that never did is not named.</summary>
    public IReadOnlyDictionary<string, long> Refused => refused;

    internal void Count(string bound) => refused.AddOrUpdate(bound, 1, (_, count) => count + 1);
}

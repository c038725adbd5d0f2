namespace Chamber.Mqtt;

/// <summary>The topics under which Chamber itself speaks.</summary>
public static class OwnTopics
{
    /// <summary>Whether the service runs: <c>online</c>, or <c>offline</c> by its last will. Retained.</summary>
    public const string State = "chamber/service/state";

    /// <summary>Once a minute while the watch comes round: how the service is. Not retained.</summary>
    public const string Heartbeat = "chamber/service/heartbeat";

    /// <summary>What every alert topic starts with.</summary>
    public const string AlertPrefix = "chamber/alerts/";

    private const string ServicePrefix = "chamber/service/";

    /// <summary>The payload of <see cref="State"/> while the service runs.</summary>
    public static ReadOnlyMemory<byte> Online { get; } = "online"u8.ToArray();

    /// <summary>The payload of <see cref="State"/> when it doesn't.</summary>
    public static ReadOnlyMemory<byte> Offline { get; } = "offline"u8.ToArray();

    /// <summary>Where an alert stands while it is open, retained; an empty payload clears it.</summary>
    /// <param name="location">The spot or the probe, as named.</param>
    /// <param name="condition">What holds: <c>too-hot</c>.</param>
    public static string Alert(string location, string condition) => $"{AlertPrefix}{location}/{condition}";

    /// <summary>Where a home-automation hub finds how a thing is, retained.</summary>
    /// <param name="kind">home, spot or batch.</param>
    /// <param name="name">Its name.</param>
    public static string HubState(string kind, string name) => $"{ServicePrefix}hub/{kind}/{name}";

    /// <summary>Whether only Chamber itself may publish there.</summary>
    internal static bool IsOwn(string topic) =>
        topic.StartsWith(AlertPrefix, StringComparison.Ordinal) || topic.StartsWith(ServicePrefix, StringComparison.Ordinal);
}

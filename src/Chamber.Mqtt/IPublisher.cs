namespace Chamber.Mqtt;

/// <summary>A way out for messages: through the broker that was joined, or through the built-in one.</summary>
public interface IPublisher
{
    /// <summary>Publishes at QoS 1. Answers false when there is no connection, or it broke: the caller publishes its state again after
    /// <see cref="Connected"/>.</summary>
    /// <param name="topic">A topic without wildcards.</param>
    /// <param name="payload">Empty clears a retained message.</param>
    /// <param name="retain">Whether later subscribers get it too.</param>
    /// <param name="cancellationToken">Gives up waiting.</param>
    ValueTask<bool> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellationToken);

    /// <summary>Raised each time that messages can go out again, also the first time. Handlers return soon.</summary>
    event EventHandler? Connected;
}

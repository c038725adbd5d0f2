namespace Chamber.Mqtt.Connection;

/// <summary>Tries a connection without leaving a trace: under another client id, without session, will or subscription.</summary>
public static class BrokerCheck
{
    /// <summary>Answers null when the broker can be joined, or one sentence on what is wrong and what to do.</summary>
    public static async Task<string?> TryAsync(BrokerAddress address, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(address);
        using var session = new BrokerSession(address, intake: null);
        var fault = await session.ConnectAsync(cancellationToken);
        if (fault is null)
        {
            await session.DisconnectAsync(cancellationToken);
        }

        return fault;
    }
}

using System.Globalization;
using System.Text;

namespace Chamber.Mqtt.Connection;

/// <summary>Tries a connection without leaving a trace: under another client id, without session, will or subscription that
/// stays.</summary>
public static class BrokerCheck
{
    // By this topic Mosquitto tells, retained, what it dropped because a queue was full.
    private const string DroppedTopic = "$SYS/broker/publish/messages/dropped";

    /// <summary>Answers null when the broker can be joined, or one sentence on what is wrong and what to do.</summary>
    public static async Task<string?> TryAsync(BrokerAddress address, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(address);
        using var session = new BrokerSession(Beside(address), intake: null);
        var fault = await session.ConnectAsync(cancellationToken);
        if (fault is null)
        {
            await session.DisconnectAsync(cancellationToken);
        }

        return fault;
    }

    /// <summary>How many messages the broker has dropped since it started, because a queue was full; null when it does not tell.</summary>
    /// <param name="address">The broker.</param>
    /// <param name="wait">How long to wait for its word.</param>
    /// <param name="time">The clock.</param>
    /// <param name="cancellationToken">Ends it early.</param>
    public static async Task<long?> DroppedAsync(BrokerAddress address, TimeSpan wait, TimeProvider time,
        CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(address);
        var told = new TaskCompletionSource<long?>(TaskCreationOptions.RunContinuationsAsynchronously);
        using var session = new BrokerSession(Beside(address), intake: null, (_, packet) =>
        {
            told.TrySetResult(NumberIn(packet.Payload.Span));
            return ValueTask.CompletedTask;
        });
        if (await session.ConnectAsync(cancellationToken) is not null
            || (await session.SubscribeAsync([DroppedTopic], cancellationToken)).Count > 0)
        {
            return null;
        }

        await Task.WhenAny(told.Task, session.Lost, Task.Delay(wait, time, cancellationToken));
        return told.Task.IsCompletedSuccessfully ? await told.Task : null;
    }

    private static BrokerAddress Beside(BrokerAddress address) => address with { ClientId = $"{address.ClientId}-check" };

    private static long? NumberIn(ReadOnlySpan<byte> payload) =>
        long.TryParse(Encoding.UTF8.GetString(payload), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}

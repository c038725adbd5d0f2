using System.Net;
using System.Net.Sockets;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Listening;
using Chamber.Service.Configuration;

namespace Chamber.Service.Checks;

/// <summary>Looks at where readings come in.</summary>
internal static class BrokerFindings
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(20);

    // What a broker retains comes at once.
    private static readonly TimeSpan Word = TimeSpan.FromSeconds(2);

    public static async Task<IReadOnlyList<Finding>> Broker(Settings settings, DataDirectory data, CancellationToken cancel)
    {
        if (!settings.Broker.Own)
        {
            return await Joined(BrokerParts.Joined(settings.Broker, data), settings.Broker.TraceUnmapped, cancel);
        }

        var listener = BrokerParts.Own(settings.Broker, data).Listeners[0];
        if (listener.DemandsPassword && !File.Exists(data.BrokerUsers))
        {
            return [Finding.Wrong("broker", $"it listens on {listener.Address} and has no users, so nobody is let in",
                "chamber broker-user add NAME")];
        }

        return [await Answers(listener.Address, listener.Port, cancel)
            ? Finding.Fine("broker", $"the one inside Chamber is running at {listener.Address}:{listener.Port}")
            : Finding.Note("broker",
                $"the one inside Chamber would listen at {listener.Address}:{listener.Port}; the service is not running", "chamber run")];
    }

    private static async Task<IReadOnlyList<Finding>> Joined(BrokerAddress address, bool traces, CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(Timeout);
        if (await BrokerCheck.TryAsync(address, patience.Token) is { } fault)
        {
            return [Finding.Wrong("broker", fault)];
        }

        List<Finding> joined = [Finding.Fine("broker", $"{address.Host}:{address.Port} answers")];
        if (traces && await Everything(address, patience.Token) is { } refused)
        {
            joined.Add(Finding.Note("topics without a mapping", $"they leave no trace in chamber refusals. {refused}",
                "or set broker.traceUnmapped to false (docs/topics.md)"));
        }

        return await BrokerCheck.DroppedAsync(address, Word, TimeProvider.System, patience.Token) is > 0 and var dropped
            ? [.. joined, Finding.Note("broker's queues", $"since its start the broker has dropped {CountText.Of(dropped, "message")} for which "
                + "a queue was full: readings sent while Chamber was away may be among them",
                "give it room: in Mosquitto \"max_queued_messages 0\" and \"persistence true\" (docs/topics.md)")]
            : joined;
    }

    private static async Task<string?> Everything(BrokerAddress address, CancellationToken cancel) =>
        (await BrokerEar.ListenAsync(address with { ClientId = $"{address.ClientId}-check" }, TimeSpan.Zero, TimeProvider.System, cancel))
            .Fault;

    private static async Task<bool> Answers(IPAddress address, int port, CancellationToken cancel)
    {
        using var client = new TcpClient();
        try
        {
            await client.ConnectAsync(address.Equals(IPAddress.Any) ? IPAddress.Loopback : address, port, cancel);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}

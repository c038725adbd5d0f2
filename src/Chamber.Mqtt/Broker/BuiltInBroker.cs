using System.Buffers;
using System.Security.Cryptography;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Microsoft.Extensions.Logging;
using MQTTnet;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// A broker for homes without one. Readings go straight to the intake, and a client's PUBACK goes out only after the commit.
/// Everything else is passed on as any broker does.
/// </summary>
public sealed class BuiltInBroker : IPublisher, IAsyncDisposable
{
    private const string OrderKey = "commit-order";

    // A client says who it is at once, or is no client.
    private static readonly TimeSpan CommunicationTimeout = TimeSpan.FromSeconds(15);

    private readonly BrokerOptions options;
    private readonly TopicMap map;
    private readonly ReadingIntake intake;
    private readonly UserFile users;
    private readonly RetainedFile retained;
    private readonly ILogger logger;
    private readonly MqttServer server;
    private long assignedIds;
    private volatile int retainedCount;
    private Task retainedWriter = Task.CompletedTask;

    /// <param name="options">Where to listen.</param>
    /// <param name="map">Which topics carry readings.</param>
    /// <param name="intake">Where they go.</param>
    /// <param name="users">Who is let in where a password is demanded.</param>
    /// <param name="retainedPath">The file for retained messages.</param>
    /// <param name="logger">For the operator.</param>
    public BuiltInBroker(BrokerOptions options, TopicMap map, ReadingIntake intake, UserFile users, string retainedPath,
        ILogger<BuiltInBroker> logger)
    {
        this.options = options;
        this.map = map;
        this.intake = intake;
        this.users = users;
        this.logger = logger;
        retained = new(retainedPath, logger);
        server = new MqttServerFactory().CreateMqttServer(
            new()
            {
                EnablePersistentSessions = true,
                DefaultCommunicationTimeout = CommunicationTimeout,
                MaxPendingMessagesPerClient = 1_000,
                PendingMessagesOverflowStrategy = MqttPendingMessagesOverflowStrategy.DropOldestQueuedMessage,
            },
            options.Listeners.Select(listener => new Listener(listener, options, NextId, logger)));
        server.ValidatingConnectionAsync += ValidateAsync;
        server.InterceptingPublishAsync += TakeInAsync;
        server.InterceptingOutboundPacketAsync += arguments =>
            OrderOf(arguments.SessionItems).BeforeSendingAsync(arguments.Packet, arguments.CancellationToken);
        server.ClientConnectedAsync += arguments =>
        {
            // A session outlives its connections, and a new connection starts without acknowledgements under way.
            arguments.SessionItems[OrderKey] = new CommitOrder();
            return Task.CompletedTask;
        };
        server.LoadingRetainedMessageAsync += arguments =>
        {
            arguments.LoadedRetainedMessages.AddRange(retained.Read());
            retainedCount = arguments.LoadedRetainedMessages.Count;
            return Task.CompletedTask;
        };
        server.RetainedMessageChangedAsync += arguments =>
        {
            retainedCount = arguments.StoredRetainedMessages.Count;
            retained.Keep(arguments.StoredRetainedMessages);
            return Task.CompletedTask;
        };
    }

    public event EventHandler? Connected;

    /// <summary>Starts to listen.</summary>
    /// <exception cref="IOException">The address or port cannot be used; the message says what to do.</exception>
    public async Task StartAsync()
    {
        await StartListeningAsync();
        retainedWriter = retained.RunAsync();
        Log.BrokerStarted(logger, Places);
        await PublishAsync(OwnTopics.State, OwnTopics.Online, retain: true, CancellationToken.None);
        Connected?.Invoke(this, EventArgs.Empty);
    }

    /// <summary>How many clients are connected.</summary>
    public async Task<int> CountClientsAsync() => server.IsStarted ? (await server.GetClientsAsync()).Count : 0;

    public async ValueTask<bool> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellationToken)
    {
        if (!server.IsStarted)
        {
            return false;
        }

        var message = new MqttApplicationMessage
        {
            Topic = topic,
            Payload = new(payload),
            Retain = retain,
            QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
        };
        await server.InjectApplicationMessage(new InjectedMqttApplicationMessage(message) { SenderClientId = string.Empty },
            cancellationToken);
        return true;
    }

    public async ValueTask DisposeAsync()
    {
        if (server.IsStarted)
        {
            await PublishAsync(OwnTopics.State, OwnTopics.Offline, retain: true, CancellationToken.None);
            await server.StopAsync(new MqttServerStopOptions());
        }

        retained.Complete();
        await retainedWriter;
        server.Dispose();
    }

    private async Task StartListeningAsync()
    {
        try
        {
            await server.StartAsync();
        }
        catch (System.Net.Sockets.SocketException exception)
        {
            throw new IOException(
                $"The built-in broker cannot listen on {Places} ({exception.Message}): another broker may run there; join it, or "
                    + $"choose another port.",
                exception);
        }
        catch (Exception exception) when (exception is CryptographicException or FileNotFoundException)
        {
            throw new IOException($"The certificate or key of the built-in broker cannot be used: {exception.Message}", exception);
        }
    }

    private async Task ValidateAsync(ValidatingConnectionEventArgs arguments)
    {
        // MQTT 5 clients may leave it to the broker to name them.
        arguments.AssignedClientIdentifier = NextId();
        var demandsPassword = arguments.ChannelAdapter is not ClientConnection { Listener.DemandsPassword: false };
        if (await CountClientsAsync() >= options.ClientsMax)
        {
            Refuse(arguments, MqttConnectReasonCode.ServerBusy, $"there are {options.ClientsMax} clients already");
        }
        else if (demandsPassword && arguments.UserName is not { Length: > 0 })
        {
            Refuse(arguments, MqttConnectReasonCode.NotAuthorized, "it gave no user, and nobody is let in without one");
        }
        else if (demandsPassword && !users.Verify(arguments.UserName, arguments.Password))
        {
            Refuse(arguments, MqttConnectReasonCode.BadUserNameOrPassword, $"wrong password, or no user \"{arguments.UserName}\"");
        }
        else
        {
            (arguments.ChannelAdapter as ClientConnection)?.LetIn();
        }
    }

    private void Refuse(ValidatingConnectionEventArgs arguments, MqttConnectReasonCode code, string reason)
    {
        arguments.ReasonCode = code;
        Log.ClientRefused(logger, arguments.ClientId, arguments.RemoteEndPoint?.ToString(), reason);
    }

    private async Task TakeInAsync(InterceptingPublishEventArgs arguments)
    {
        var message = arguments.ApplicationMessage;
        if (arguments.ClientId.Length == 0 || !arguments.ProcessPublish)
        {
            // Chamber's own messages, which nobody acknowledges.
            return;
        }

        if (message.Retain && retainedCount >= options.RetainedMax && !message.Payload.IsEmpty)
        {
            // At the bound a message is still passed on, and no longer kept.
            message.Retain = false;
        }

        var committed = Task.CompletedTask;
        if (OwnTopics.IsOwn(message.Topic))
        {
            arguments.ProcessPublish = false;
            arguments.Response.ReasonCode = MqttPubAckReasonCode.NotAuthorized;
        }
        else if (map.Knows(message.Topic) || message.Topic.StartsWith("chamber/", StringComparison.Ordinal))
        {
            committed = await PostAsync(message, arguments.CancellationToken);
        }

        if (message.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce)
        {
            OrderOf(arguments.SessionItems).Expect(committed);
        }
    }

    private async ValueTask<Task> PostAsync(MqttApplicationMessage message, CancellationToken cancellationToken)
    {
        var receipt = message.QualityOfServiceLevel == MqttQualityOfServiceLevel.AtMostOnce ? null : new CommitOrder.Receipt();

        // What a publisher marks to be retained arrives live here: its time of arrival is its time.
        await intake.PostAsync(new(new(message.Topic, message.Payload.ToArray(), Retained: false, intake.Now), receipt), cancellationToken);
        return receipt?.Done ?? Task.CompletedTask;
    }

    private string Places => string.Join(", ", options.Listeners.Select(listener => $"{listener.Address}:{listener.Port}"));

    private string NextId() => $"client-{Interlocked.Increment(ref assignedIds)}";

    private static CommitOrder OrderOf(System.Collections.IDictionary session)
    {
        if (session[OrderKey] is CommitOrder order)
        {
            return order;
        }

        session[OrderKey] = order = new();
        return order;
    }
}

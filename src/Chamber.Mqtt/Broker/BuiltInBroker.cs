using System.Buffers;
using System.Net;
using System.Security.Cryptography;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Chamber.Mqtt.Listening;
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
    private readonly Door door;
    private readonly BrokerSessions sessions;
    private readonly PasswordTries tries;
    private readonly TopicGate gate;
    private readonly FirstHeard unread = new();
    private long assignedIds;
    private volatile int retainedCount;
    private long retainedBytes;
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
        sessions = new(options, TimeProvider.System);
        tries = new(options.PasswordTriesMax, TimeProvider.System);
        gate = new(options, users, Metrics, logger);
        retained = new(retainedPath, logger);
        door = new(options, NextId, Metrics, logger);
        server = new MqttServerFactory().CreateMqttServer(
            new()
            {
                EnablePersistentSessions = true,
                DefaultCommunicationTimeout = CommunicationTimeout,
                MaxPendingMessagesPerClient = 1_000,
                PendingMessagesOverflowStrategy = MqttPendingMessagesOverflowStrategy.DropOldestQueuedMessage,
            },
            [.. options.Listeners.Select(listener => new Listener(listener, options, NextId, Metrics, logger)), door]);
        server.ValidatingConnectionAsync += ValidateAsync;
        server.InterceptingPublishAsync += TakeInAsync;
        server.InterceptingOutboundPacketAsync += arguments =>
        {
            Sent(arguments.ClientId, arguments.Packet);
            return OrderOf(arguments.SessionItems).BeforeSendingAsync(arguments.Packet, arguments.CancellationToken);
        };
        server.QueuedApplicationMessageOverwrittenAsync += arguments => Done(() => Sent(arguments.ReceiverClientId, arguments.Packet));
        server.ClientConnectedAsync += arguments =>
        {
            // A session outlives its connections, and a new connection starts without acknowledgements under way.
            arguments.SessionItems[OrderKey] = new CommitOrder();
            sessions.Come(arguments.ClientId, TopicGate.AccountOf(arguments.SessionItems) ?? TopicGate.NoAccount);
            return Task.CompletedTask;
        };
        server.ClientDisconnectedAsync += arguments => Done(() => sessions.Leave(arguments.ClientId));
        server.SessionDeletedAsync += arguments => Done(() => sessions.Forget(arguments.Id));
        server.InterceptingSubscriptionAsync += arguments => Done(() => gate.Subscribe(arguments));
        server.ClientUnsubscribedTopicAsync += arguments =>
            Done(() => TopicGate.Unsubscribe(arguments.SessionItems, arguments.TopicFilter));
        server.InterceptingClientEnqueueAsync += arguments => Done(() => Enqueue(arguments));
        server.LoadingRetainedMessageAsync += arguments =>
        {
            arguments.LoadedRetainedMessages.AddRange(retained.Read());
            CountRetained(arguments.LoadedRetainedMessages);
            return Task.CompletedTask;
        };
        server.RetainedMessageChangedAsync += arguments =>
        {
            CountRetained(arguments.StoredRetainedMessages);
            retained.Keep(arguments.StoredRetainedMessages);
            return Task.CompletedTask;
        };
    }

    public event EventHandler? Connected;

    /// <summary>What its bounds refused.</summary>
    public BrokerMetrics Metrics { get; } = new();

    /// <summary>Starts to listen.</summary>
    /// <exception cref="IOException">The address or port cannot be used; the message says what to do.</exception>
    public async Task StartAsync()
    {
        await StartListeningAsync();
        retainedWriter = retained.RunAsync();
        Log.BrokerStarted(logger, Addresses);
        await PublishAsync(OwnTopics.State, OwnTopics.Online, retain: true, CancellationToken.None);
        Connected?.Invoke(this, EventArgs.Empty);
    }

    /// <summary>Opens one more address while the broker runs, in place of the one that was opened so before; null closes it and cuts off
    /// whoever came in by it.</summary>
    /// <exception cref="IOException">The address or port cannot be used; nothing was opened.</exception>
    public async Task OpenAsync(ListenerOptions? listener)
    {
        try
        {
            await door.UseAsync(listener);
        }
        catch (System.Net.Sockets.SocketException exception)
        {
            throw new IOException($"The built-in broker cannot listen on {listener!.Address}:{listener.Port} ({exception.Message}).", exception);
        }
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
                $"The built-in broker cannot listen on {Addresses} ({exception.Message}): another broker may run there; join it, or "
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
        var account = demandsPassword ? arguments.UserName : TopicGate.NoAccount;
        if (await CountClientsAsync() >= options.ClientsMax)
        {
            Refuse(arguments, "clients", MqttConnectReasonCode.ServerBusy, $"there are {options.ClientsMax} clients already");
        }
        else if ((!demandsPassword || Proves(arguments)) && await HasRoom(arguments, account))
        {
            TopicGate.SetAccount(arguments.SessionItems, account);
            (arguments.ChannelAdapter as ClientConnection)?.LetIn();
        }
    }

    // A password costs a tenth of a second: who guesses is not let try without end.
    private bool Proves(ValidatingConnectionEventArgs arguments)
    {
        var address = (arguments.RemoteEndPoint as IPEndPoint)?.Address ?? IPAddress.None;
        if (arguments.UserName is not { Length: > 0 })
        {
            Refuse(arguments, "user", MqttConnectReasonCode.NotAuthorized, "it gave no user, and nobody is let in without one");
            return false;
        }

        if (tries.IsOver(address))
        {
            Refuse(arguments, "password tries", MqttConnectReasonCode.ConnectionRateExceeded,
                "too many wrong passwords came from there; it may try again in a minute");
            return false;
        }

        if (users.Verify(arguments.UserName, arguments.Password))
        {
            return true;
        }

        tries.Wrong(address);
        Refuse(arguments, "password", MqttConnectReasonCode.BadUserNameOrPassword,
            $"wrong password, or no user \"{StrangerText.Of(arguments.UserName)}\"");
        return false;
    }

    // A client id belongs to the account that is connected by it; a session that another has left is not theirs to read. A name that nobody
    // had to prove is no account.
    private async Task<bool> HasRoom(ValidatingConnectionEventArgs arguments, string account)
    {
        var (isOfOther, isHere) = sessions.Look(arguments.ClientId, account);
        if (isOfOther && isHere)
        {
            Refuse(arguments, "client id", MqttConnectReasonCode.ClientIdentifierNotValid, "another user is connected by this client id");
            return false;
        }

        await End([.. sessions.Outlived(arguments.ClientId), .. isOfOther ? new[] { arguments.ClientId } : []]);
        return true;
    }

    private async Task End(IReadOnlyList<string> outlived)
    {
        if (outlived.Count == 0)
        {
            return;
        }

        foreach (var session in (await server.GetSessionsAsync()).Where(session => outlived.Contains(session.Id)))
        {
            await session.DeleteAsync();
        }

        foreach (var client in outlived)
        {
            Metrics.Count("sessions");
            sessions.Forget(client);
        }
    }

    private void Refuse(ValidatingConnectionEventArgs arguments, string bound, MqttConnectReasonCode code, string reason)
    {
        arguments.ReasonCode = code;
        Metrics.Count(bound);
        Log.ClientRefused(logger, StrangerText.Of(arguments.ClientId), arguments.RemoteEndPoint?.ToString(), reason);
    }

    private void Enqueue(InterceptingClientApplicationMessageEnqueueEventArgs arguments)
    {
        if (!sessions.MayWait(arguments.ReceiverClientId, arguments.ApplicationMessage.Payload.Length))
        {
            Metrics.Count("waiting bytes");
            arguments.AcceptEnqueue = false;
        }
    }

    private void CountRetained(List<MqttApplicationMessage> messages)
    {
        retainedCount = messages.Count;
        Volatile.Write(ref retainedBytes, messages.Sum(message => message.Topic.Length + message.Payload.Length));
    }

    private bool MayBeRetained(MqttApplicationMessage message) => message.Payload.IsEmpty
        || (retainedCount < options.RetainedMax
            && Volatile.Read(ref retainedBytes) + message.Topic.Length + message.Payload.Length <= options.RetainedBytesMax);

    private static Task Done(Action action)
    {
        action();
        return Task.CompletedTask;
    }

    private async Task TakeInAsync(InterceptingPublishEventArgs arguments)
    {
        var message = arguments.ApplicationMessage;
        if (arguments.ClientId.Length == 0 || !arguments.ProcessPublish)
        {
            // Chamber's own messages, which nobody acknowledges.
            return;
        }

        if (gate.WhyNot(arguments) is { } problem)
        {
            arguments.ProcessPublish = false;
            arguments.Response.ReasonCode = problem;
            Expect(arguments, Task.CompletedTask);
            return;
        }

        if (message.Retain && !MayBeRetained(message))
        {
            // At the bound a message is still passed on, and no longer kept.
            Metrics.Count("retained");
            message.Retain = false;
        }

        var committed = Task.CompletedTask;
        if (map.Knows(message.Topic) || message.Topic.StartsWith("chamber/", StringComparison.Ordinal))
        {
            committed = await PostAsync(message, arguments.CancellationToken);
        }
        else if (options.TraceUnmapped && unread.IsNew(message.Topic))
        {
            // What no mapping knows is refused once, so that it can be found and mapped; whoever sent it does not wait for that.
            await intake.PostAsync(new(Incoming(message), Receipt: null), arguments.CancellationToken);
        }

        Expect(arguments, committed);
    }

    private static void Expect(InterceptingPublishEventArgs arguments, Task committed)
    {
        if (arguments.ApplicationMessage.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce)
        {
            OrderOf(arguments.SessionItems).Expect(committed);
        }
    }

    private void Sent(string client, MQTTnet.Packets.MqttPacket packet)
    {
        if (packet is MQTTnet.Packets.MqttPublishPacket message)
        {
            sessions.Sent(client, message.Payload.Length);
        }
    }

    private async ValueTask<Task> PostAsync(MqttApplicationMessage message, CancellationToken cancellationToken)
    {
        var receipt = message.QualityOfServiceLevel == MqttQualityOfServiceLevel.AtMostOnce ? null : new CommitOrder.Receipt();

        // What a publisher marks to be retained arrives live here: its time of arrival is its time.
        await intake.PostAsync(new(Incoming(message), receipt), cancellationToken);
        return receipt?.Done ?? Task.CompletedTask;
    }

    private IncomingMessage Incoming(MqttApplicationMessage message) =>
        new(message.Topic, message.Payload.ToArray(), Retained: false, intake.Now);

    private string Addresses => string.Join(", ", options.Listeners.Select(listener => $"{listener.Address}:{listener.Port}"));

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

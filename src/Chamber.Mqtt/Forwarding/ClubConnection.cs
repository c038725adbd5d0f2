using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Chamber.Mqtt.Connection;
using MQTTnet;
using MQTTnet.Exceptions;

namespace Chamber.Mqtt.Forwarding;

/// <summary>
/// Sends packets of readings to a club and waits until the club itself says that it has them: a broker that took them may still lose them.
/// A packet that is sent twice is taken once.
/// </summary>
/// <param name="address">The club's broker.</param>
/// <param name="home">What the home is called in the club.</param>
/// <param name="time">The clock that waits go by.</param>
public sealed class ClubConnection(BrokerAddress address, string home, TimeProvider time) : IDisposable
{
    /// <summary>The club commits within a second; this leaves room for a database that is restarted.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly Lock gate = new();
    private readonly HashSet<string> waiting = [];
    private readonly string session = RandomNumberGenerator.GetHexString(12, lowercase: true);
    private TaskCompletionSource confirmed = new();
    private BrokerSession? broker;
    private long packets;

    /// <summary>Joins the club's broker, where it has not yet.</summary>
    /// <returns>Null, or one sentence on what is wrong and what to do.</returns>
    public async Task<string?> JoinAsync(CancellationToken cancellationToken)
    {
        if (broker is { Lost.IsCompleted: false })
        {
            return null;
        }

        broker?.Dispose();
        broker = new(address, intake: null, Heard);
        if (await broker.ConnectAsync(cancellationToken) is { } fault)
        {
            Leave();
            return $"The club's broker: {fault}";
        }

        if ((await broker.SubscribeAsync([ClubTopics.Confirmed(home)], cancellationToken)).Count > 0)
        {
            Leave();
            return $"The club's broker does not let this home read {ClubTopics.Confirmed(home)}: ask the club's keeper for that right.";
        }

        return null;
    }

    /// <summary>Sends packets and waits for all of them.</summary>
    /// <returns>Null when the club has them; otherwise why it is not known to. Then send them again.</returns>
    public async Task<string?> SendAsync(IReadOnlyList<byte[]> lines, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(lines);
        if (await JoinAsync(cancellationToken) is { } fault)
        {
            return fault;
        }

        var numbers = lines.Select(_ => string.Create(CultureInfo.InvariantCulture, $"{session}-{++packets}")).ToList();
        lock (gate)
        {
            waiting.Clear();
            waiting.UnionWith(numbers);
            confirmed = new(TaskCreationOptions.RunContinuationsAsynchronously);
        }

        try
        {
            foreach (var (number, packet) in numbers.Zip(lines))
            {
                var said = await broker!.PublishAsync(ClubTopics.Packet(home, number), packet, retain: false, cancellationToken);
                if (said != MqttClientPublishReasonCode.Success)
                {
                    return Explain(said);
                }
            }
        }
        catch (MqttCommunicationException problem)
        {
            Leave();
            return $"The club's broker at {address.Host}:{address.Port} went away: {problem.Message}";
        }

        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        await Task.WhenAny(confirmed.Task, broker!.Lost, Task.Delay(Patience, time, patience.Token));
        await patience.CancelAsync();
        cancellationToken.ThrowIfCancellationRequested();
        return confirmed.Task.IsCompletedSuccessfully ? null
            : broker.Lost.IsCompleted ? $"The club's broker at {address.Host}:{address.Port} went away: {await broker.Lost}"
            : $"The club has not confirmed readings within {Patience.TotalSeconds:0} s: see that chamber-club intake runs there, and that "
                + $"the club knows this home as {home}.";
    }

    public void Dispose() => Leave();

    private string Explain(MqttClientPublishReasonCode said) => said switch
    {
        MqttClientPublishReasonCode.NoMatchingSubscribers =>
            "At the club's broker nobody receives readings: chamber-club intake does not run there.",
        MqttClientPublishReasonCode.NotAuthorized =>
            $"The club's broker does not let this home write {ClubTopics.Packet(home, "#")}: ask the club's keeper for that right.",
        _ => $"The club's broker did not take the readings ({said}): ask the club's keeper.",
    };

    private ValueTask Heard(string topic, PublishPacket packet)
    {
        lock (gate)
        {
            waiting.ExceptWith(Encoding.UTF8.GetString(packet.Payload.Span).Split(' '));
            if (waiting.Count == 0)
            {
                confirmed.TrySetResult();
            }
        }

        return ValueTask.CompletedTask;
    }

    private void Leave()
    {
        broker?.Dispose();
        broker = null;
    }
}

using System.Threading.Channels;
using Chamber.Club.Store;
using Chamber.Club.Telemetry;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Forwarding;
using Microsoft.Extensions.Logging;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Club.Intake;

/// <summary>
/// Receives readings of all homes of a club by one slot: decodes, commits by batches, and only then acknowledges. What was not
/// acknowledged comes again to whoever holds the slot next, and is then there once all the same. Then the homes are told.
/// </summary>
public sealed partial class ClubIntake(
    ClubDatabase database, Action<IReadOnlyDictionary<int, bool>> tell, BrokerAddress broker, StoreOptions options, TimeProvider time,
    ILogger<ClubIntake> logger)
{
    /// <summary>So many messages are committed at once, at most.</summary>
    public const int BatchMax = 1000;

    private static readonly TimeSpan Linger = TimeSpan.FromMilliseconds(200);
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(1);

    // An error that does not pass is tried so often before it is looked for in single messages.
    private const int TriesMax = 3;

    private readonly HomeDecoders decoders = new(database, time);
    // Each with whether something so warm came that it is looked at once.
    private readonly Dictionary<int, bool> changed = [];

    private readonly TaskCompletionSource receives = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private Instant Now => Instant.FromDateTimeOffset(time.GetUtcNow());

    /// <summary>Ends when it receives for the first time.</summary>
    public Task Receives => receives.Task;

    /// <summary>Messages whose readings and refusals are kept.</summary>
    public long Committed { get; private set; }

    /// <summary>Receives by a slot until it is no longer held, the broker is gone, or it is cancelled.</summary>
    public async Task RunAsync(IntakeSlot slot, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(slot);
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        using var client = new MqttClientFactory().CreateMqttClient();
        var queue = Channel.CreateBounded<Arrived>(new BoundedChannelOptions(2 * BatchMax) { SingleReader = true });
        client.ApplicationMessageReceivedAsync += async arguments =>
        {
            arguments.AutoAcknowledge = false;
            await queue.Writer.WriteAsync(new(arguments, Now), ended.Token);
        };
        client.DisconnectedAsync += _ => ended.CancelAsync();
        await client.ConnectAsync(Options(slot), cancel);
        await client.SubscribeAsync(HomeTopic.SharedFilter, MqttQualityOfServiceLevel.AtLeastOnce, cancel);
        Joined(logger, slot.ClientId, broker.Host, broker.Port);
        receives.TrySetResult();
        ClubSignals.Slots.Add(1);
        var hold = HoldAsync(slot, ended);
        try
        {
            await ReceiveAsync(queue.Reader, client, ended.Token);
        }
        finally
        {
            ClubSignals.Slots.Add(-1);
            await ended.CancelAsync();
            await hold;
            Left(logger, slot.ClientId, Committed, decoders.Strangers);
        }
    }

    // Never CleanStart: what the broker has kept for this name is what a predecessor did not acknowledge.
    private MqttClientOptions Options(IntakeSlot slot)
    {
        var builder = new MqttClientOptionsBuilder().WithTcpServer(broker.Host, broker.Port).WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(slot.ClientId).WithCleanStart(false).WithSessionExpiryInterval(uint.MaxValue).WithReceiveMaximum(2 * BatchMax)
            .WithTimeout(TimeSpan.FromSeconds(broker.TimeoutSeconds));
        if (broker.User is { } user)
        {
            builder.WithCredentials(user, broker.PasswordFile is { } file ? File.ReadAllText(file).TrimEnd('\r', '\n') : broker.Password);
        }

        return builder.Build();
    }

    private async Task HoldAsync(IntakeSlot slot, CancellationTokenSource ended)
    {
        try
        {
            while (await slot.IsHeldAsync(ended.Token))
            {
                await Task.Delay(Again, time, ended.Token);
            }

            await ended.CancelAsync();
        }
        catch (OperationCanceledException) when (ended.IsCancellationRequested)
        {
            // It ends.
        }
    }

    private async Task ReceiveAsync(ChannelReader<Arrived> queue, IMqttClient client, CancellationToken cancel)
    {
        try
        {
            var batch = new List<Arrived>(BatchMax);
            while (await queue.WaitToReadAsync(cancel))
            {
                Take(queue, batch);
                if (batch.Count < BatchMax / 10)
                {
                    await Task.Delay(Linger, time, cancel);
                    Take(queue, batch);
                }

                await KeepAsync(batch, cancel);
                foreach (var message in batch)
                {
                    await message.AcknowledgeAsync(cancel);
                }

                ClubSignals.AcknowledgeTime.Record((Now - batch.Min(message => message.At)).TotalSeconds);

                await ConfirmAsync(client, batch, cancel);
                tell(changed);
                changed.Clear();
                batch.Clear();
            }
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // What was not acknowledged comes again.
        }
        catch (MQTTnet.Exceptions.MqttCommunicationException)
        {
            // The broker went while it was told: the same.
        }
    }

    // To homes that wait for it. One that is not heard is asked for again by the same packet.
    private async Task ConfirmAsync(IMqttClient client, List<Arrived> kept, CancellationToken cancel)
    {
        foreach (var home in decoders.PacketsOf(kept))
        {
            await client.PublishStringAsync(
                ClubTopics.Confirmed(home.Key), string.Join(' ', home), MqttQualityOfServiceLevel.AtMostOnce, cancellationToken: cancel);
        }
    }

    // Waits out a database that is away; looks for a message that it never takes, and keeps a refusal in its place.
    private async Task KeepAsync(List<Arrived> messages, CancellationToken cancel)
    {
        for (var tries = 1; ; tries++)
        {
            try
            {
                var (begun, strangers) = (time.GetTimestamp(), decoders.Strangers);
                var batches = await decoders.DecodeAsync(messages, cancel);
                var results = await database.AppendAsync(batches, options, cancel);
                ClubSignals.CommitTime.Record(time.GetElapsedTime(begun).TotalSeconds);
                ClubSignals.Strangers.Add(decoders.Strangers - strangers);
                ClubSignals.Refusals.Add(batches.Sum(one => one.Refusals.Count));
                foreach (var (home, result) in results)
                {
                    ClubSignals.Readings.Add(result.Inserted);
                    if (result.Changed.Count > 0)
                    {
                        changed[home] = changed.GetValueOrDefault(home) | result.Changed.Any(IsHot);
                    }
                }

                Committed += messages.Count;
                ClubSignals.Messages.Add(messages.Count);
                return;
            }
            catch (StoreException problem)
            {
                ClubSignals.CommitFailures.Add(1);
                Failed(logger, messages.Count, problem.Message);
                if (problem.Fault is StoreFault.Content or StoreFault.Unexpected && tries >= TriesMax)
                {
                    break;
                }
            }

            await Task.Delay(Again, time, cancel);
        }

        if (messages.Count > 1)
        {
            await KeepAsync([.. messages.Take(messages.Count / 2)], cancel);
            await KeepAsync([.. messages.Skip(messages.Count / 2)], cancel);
        }
        else if (decoders.Aside(messages[0]) is { } aside)
        {
            await database.AppendAsync([aside], options, cancel);
        }
    }

    private static bool IsHot(Reading reading) => reading.Temperature?.Celsius >= HomeWatch.UrgentCelsius;

    private static void Take(ChannelReader<Arrived> queue, List<Arrived> into)
    {
        while (into.Count < BatchMax && queue.TryRead(out var message))
        {
            into.Add(message);
        }
    }

    [LoggerMessage(LogLevel.Information, "{Slot} receives from the broker at {Host}:{Port}.")]
    private static partial void Joined(ILogger logger, string slot, string host, int port);

    [LoggerMessage(LogLevel.Information, "{Slot} ends: {Committed} messages kept, {Strangers} of no home let go.")]
    private static partial void Left(ILogger logger, string slot, long committed, long strangers);

    [LoggerMessage(LogLevel.Warning, "{Messages} messages wait to be kept: {Problem}")]
    private static partial void Failed(ILogger logger, int messages, string problem);
}

using System.Collections.Concurrent;
using Chamber.Mqtt.Intake;
using MQTTnet.Packets;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// Holds back a client's acknowledgements until its messages are committed. The broker acknowledges in the order in which it
/// received, so one queue of "committed yet?" for each client is enough, and many messages of one client share a commit.
/// </summary>
internal sealed class CommitOrder
{
    private readonly ConcurrentQueue<Task> pending = new();

    /// <summary>A message with an acknowledgement to come, and when it may go out.</summary>
    public void Expect(Task committed) => pending.Enqueue(committed);

    /// <summary>Waits, before the acknowledgement of the oldest message goes out, until that message is committed.</summary>
    public Task BeforeSendingAsync(MqttPacket packet, CancellationToken cancellationToken) =>
        packet is MqttPubAckPacket or MqttPubRecPacket && pending.TryDequeue(out var committed)
            ? committed.WaitAsync(cancellationToken)
            : Task.CompletedTask;

    /// <summary>A message on its way to the store; its task ends when it is there.</summary>
    internal sealed class Receipt : IReceipt
    {
        private readonly TaskCompletionSource committed = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task Done => committed.Task;

        public void Committed(ushort packetId) => committed.TrySetResult();

        public ValueTask FlushAsync() => ValueTask.CompletedTask;
    }
}

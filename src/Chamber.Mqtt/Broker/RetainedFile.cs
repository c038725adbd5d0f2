using System.Buffers;
using System.Text.Json;
using System.Threading.Channels;
using Microsoft.Extensions.Logging;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// Keeps the retained messages of the built-in broker in a file, so that a restart doesn't lose other people's. Written whole
/// after a change, by one writer that skips states already overtaken.
/// </summary>
internal sealed class RetainedFile(string path, ILogger logger)
{
    private readonly Channel<IReadOnlyList<MqttApplicationMessage>> newest =
        Channel.CreateBounded<IReadOnlyList<MqttApplicationMessage>>(
            new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropOldest });

    public void Keep(IReadOnlyList<MqttApplicationMessage> messages) => newest.Writer.TryWrite(messages);

    /// <summary>No more changes come: <see cref="RunAsync"/> ends when the last is written.</summary>
    public void Complete() => newest.Writer.TryComplete();

    public async Task RunAsync()
    {
        await foreach (var messages in newest.Reader.ReadAllAsync())
        {
            try
            {
                await WriteAsync(messages);
            }
            catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
            {
                Log.RetainedNotKept(logger, exception, path);
            }
        }
    }

    public List<MqttApplicationMessage> Read()
    {
        try
        {
            return File.Exists(path)
                ? [.. JsonSerializer.Deserialize<Kept[]>(File.ReadAllBytes(path))!.Select(kept => kept.ToMessage())]
                : [];
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException or JsonException)
        {
            Log.RetainedNotRead(logger, exception, path);
            return [];
        }
    }

    private async Task WriteAsync(IReadOnlyList<MqttApplicationMessage> messages)
    {
        var beside = path + ".new";
        await File.WriteAllBytesAsync(beside, JsonSerializer.SerializeToUtf8Bytes(messages.Select(Kept.From)));
        File.Move(beside, path, overwrite: true);
    }

    private sealed record Kept(string Topic, byte[] Payload, int Qos)
    {
        public static Kept From(MqttApplicationMessage message) =>
            new(message.Topic, message.Payload.ToArray(), (int)message.QualityOfServiceLevel);

        public MqttApplicationMessage ToMessage() => new()
        {
            Topic = Topic,
            Payload = new(Payload),
            QualityOfServiceLevel = (MqttQualityOfServiceLevel)Qos,
            Retain = true,
        };
    }
}

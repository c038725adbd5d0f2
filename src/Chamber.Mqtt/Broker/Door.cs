using Microsoft.Extensions.Logging;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Server;

namespace Chamber.Mqtt.Broker;

/// <summary>An address that is opened and closed while the broker runs. Whoever came in by it is cut off when it closes.</summary>
internal sealed class Door(BrokerOptions broker, Func<string> nextId, BrokerMetrics metrics, ILogger log) : IMqttServerAdapter
{
    private readonly SemaphoreSlim gate = new(1);
    private MqttServerOptions? server;
    private IMqttNetLogger? logger;
    private (ListenerOptions At, Listener Listener)? open;

    public Func<IMqttChannelAdapter, Task>? ClientHandler { get; set; }

    public Task StartAsync(MqttServerOptions options, IMqttNetLogger netLogger)
    {
        (server, logger) = (options, netLogger);
        return Task.CompletedTask;
    }

    /// <summary>Closes what is open and opens another address; null opens none.</summary>
    /// <exception cref="System.Net.Sockets.SocketException">The address or port cannot be used; nothing is open.</exception>
    public async Task UseAsync(ListenerOptions? options)
    {
        await gate.WaitAsync();
        try
        {
            if (open?.At == options)
            {
                return;
            }

            if (open is { Listener: var before })
            {
                open = null;
                await before.StopAsync();
                before.Dispose();
            }

            if (options is not null && server is not null)
            {
                var listener = new Listener(options, broker, nextId, metrics, log) { ClientHandler = ClientHandler };
                await listener.StartAsync(server, logger!);
                open = (options, listener);
            }
        }
        finally
        {
            gate.Release();
        }
    }

    public Task StopAsync() => UseAsync(null);

    public void Dispose()
    {
        open?.Listener.Dispose();
        gate.Dispose();
    }
}

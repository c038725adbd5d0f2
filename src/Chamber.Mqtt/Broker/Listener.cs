using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Adapter;
using MQTTnet.Certificates;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Server;
using MQTTnet.Server.Internal.Adapter;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// One address of the broker. The library's own adapter knows one plain and one encrypted address; this one lets each be told
/// apart, because who came in where decides whether a password is demanded.
/// </summary>
internal sealed class Listener(ListenerOptions options, Func<string> nextId) : IMqttServerAdapter
{
    private readonly MqttTcpServerAdapter inner = new();

    public Func<IMqttChannelAdapter, Task>? ClientHandler { get; set; }

    public Task StartAsync(MqttServerOptions server, IMqttNetLogger logger)
    {
        inner.ClientHandler = connection => ClientHandler?.Invoke(new ClientConnection(connection, options, nextId)) ?? Task.CompletedTask;
        return inner.StartAsync(Endpoint(server), logger);
    }

    public Task StopAsync() => inner.StopAsync();

    public void Dispose() => inner.Dispose();

    private MqttServerOptions Endpoint(MqttServerOptions server)
    {
        var own = new MqttServerOptions { DefaultCommunicationTimeout = server.DefaultCommunicationTimeout };
        MqttServerTcpEndpointBaseOptions endpoint = own.DefaultEndpointOptions;
        if (options.CertificateFile is { } certificate)
        {
            own.TlsEndpointOptions.CertificateProvider = new FileCertificate(certificate, options.KeyFile);
            endpoint = own.TlsEndpointOptions;
        }

        var isV6 = options.Address.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6;
        endpoint.BoundInterNetworkAddress = isV6 ? IPAddress.None : options.Address;
        endpoint.BoundInterNetworkV6Address = isV6 ? options.Address : IPAddress.None;
        endpoint.Port = options.Port;
        endpoint.IsEnabled = true;
        return own;
    }

    private sealed class FileCertificate(string certificate, string? key) : ICertificateProvider
    {
        private readonly Lazy<X509Certificate2> loaded = new(() => X509Certificate2.CreateFromPemFile(certificate, key));

        public X509Certificate2 GetCertificate() => loaded.Value;
    }
}

using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Adapter;
using MQTTnet.Formatter;
using MQTTnet.Packets;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// A client's connection that remembers by which address it came in, and that gives a client without an id one: MQTT 3.1.1
/// section 3.1.3.1 lets clients leave it empty, many do, and the library refuses them.
/// </summary>
internal sealed class ClientConnection(IMqttChannelAdapter inner, ListenerOptions listener, Func<string> nextId, Action letIn)
    : IMqttChannelAdapter
{
    public ListenerOptions Listener => listener;

    /// <summary>The client was let in; longer packets are taken from now on.</summary>
    public void LetIn() => letIn();

    public long BytesReceived => inner.BytesReceived;

    public long BytesSent => inner.BytesSent;

    public X509Certificate2 ClientCertificate => inner.ClientCertificate;

    public EndPoint RemoteEndPoint => inner.RemoteEndPoint;

    public EndPoint LocalEndPoint => inner.LocalEndPoint;

    public bool IsSecureConnection => inner.IsSecureConnection;

    public MqttPacketFormatterAdapter PacketFormatterAdapter => inner.PacketFormatterAdapter;

    public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

    public Task DisconnectAsync(CancellationToken cancellationToken) => inner.DisconnectAsync(cancellationToken);

    public async Task<MqttPacket> ReceivePacketAsync(CancellationToken cancellationToken)
    {
        var packet = await inner.ReceivePacketAsync(cancellationToken);
        if (packet is MqttConnectPacket { CleanSession: true, ClientId: null or "" } connect
            && PacketFormatterAdapter.ProtocolVersion != MqttProtocolVersion.V500)
        {
            connect.ClientId = nextId();
        }

        return packet;
    }

    public void ResetStatistics() => inner.ResetStatistics();

    public Task SendPacketAsync(MqttPacket packet, CancellationToken cancellationToken) => inner.SendPacketAsync(packet, cancellationToken);

    public void Dispose() => inner.Dispose();
}

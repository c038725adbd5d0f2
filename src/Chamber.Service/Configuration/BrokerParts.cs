using System.Net;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Connection;

namespace Chamber.Service.Configuration;

/// <summary>Turns settings into what the broker and the connection take.</summary>
internal static class BrokerParts
{
    private const int PlainPort = 1883;
    private const int TlsPort = 8883;

    public static BrokerOptions Own(BrokerSettings settings, DataDirectory data) => new()
    {
        Listeners = [.. settings.Listen.Select(listener => new ListenerOptions
        {
            Address = IPAddress.Parse(listener.Address),
            Port = listener.Port ?? (listener.Certificate is null ? PlainPort : TlsPort),
            CertificateFile = Resolve(listener.Certificate, data),
            KeyFile = Resolve(listener.Key, data),
        })],
    };

    public static BrokerAddress Joined(BrokerSettings settings, DataDirectory data) => new()
    {
        Host = settings.Host!,
        Port = settings.Port ?? (settings.Tls is null ? PlainPort : TlsPort),
        Tls = settings.Tls is not null,
        AuthorityFile = Resolve(settings.Tls?.Authority, data),
        CertificateFile = Resolve(settings.Tls?.Certificate, data),
        KeyFile = Resolve(settings.Tls?.Key, data),
        User = settings.User,
        Password = settings.Password,
        PasswordFile = Resolve(settings.PasswordFile, data),
        ClientId = settings.ClientId,
        Version = settings.Version,
    };

    private static string? Resolve(string? file, DataDirectory data) => file is null ? null : data.Resolve(file);
}

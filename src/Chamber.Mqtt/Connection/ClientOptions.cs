using System.Net;
using System.Net.Security;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Chamber.Mqtt.Connection;

/// <summary>Turns an address into what the MQTT client needs.</summary>
internal static class ClientOptions
{
    /// <param name="address">Where and how.</param>
    /// <param name="isPersistent">Whether the broker keeps messages and the last will is left with it; a mere check does neither.</param>
    /// <param name="certificateFaults">Called with what is wrong with the broker's certificate.</param>
    /// <exception cref="IOException">A file of the address cannot be read.</exception>
    /// <exception cref="System.Security.Cryptography.CryptographicException">A file of the address holds no certificate or no
    /// key.</exception>
    public static MqttClientOptions Create(BrokerAddress address, bool isPersistent, Action<SslPolicyErrors> certificateFaults)
    {
        var options = new MqttClientOptions
        {
            ClientId = address.ClientId,
            CleanSession = !isPersistent,
            ProtocolVersion = address.Version == MqttVersion.V5 ? MqttProtocolVersion.V500 : MqttProtocolVersion.V311,
            Timeout = TimeSpan.FromSeconds(address.TimeoutSeconds),
            KeepAlivePeriod = TimeSpan.FromSeconds(60),
            ChannelOptions = new MqttClientTcpOptions
            {
                RemoteEndpoint = IPAddress.TryParse(address.Host, out var ip) ? new IPEndPoint(ip, address.Port)
                    : new DnsEndPoint(address.Host, address.Port),
                BufferSize = 256 * 1024,
                TlsOptions = Tls(address, certificateFaults),
            },
        };
        if (address.User is { } user)
        {
            options.Credentials = new MqttClientCredentials(user, Password(address));
        }

        if (isPersistent)
        {
            options.WillTopic = OwnTopics.State;
            options.WillPayload = OwnTopics.Offline.ToArray();
            options.WillRetain = true;
            options.WillQualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce;
        }

        if (address.Version == MqttVersion.V5)
        {
            options.ReceiveMaximum = address.ReceiveMaximum;
            options.SessionExpiryInterval = isPersistent ? (uint)address.SessionHours * 3600 : 0;
        }

        return options;
    }

    private static byte[]? Password(BrokerAddress address) =>
        address.PasswordFile is { } file
            ? System.Text.Encoding.UTF8.GetBytes(File.ReadAllText(file).TrimEnd('\r', '\n'))
            : address.Password is { } password ? System.Text.Encoding.UTF8.GetBytes(password) : null;

    private static MqttClientTlsOptions Tls(BrokerAddress address, Action<SslPolicyErrors> certificateFaults)
    {
        if (!address.Tls)
        {
            return new();
        }

        var tls = new MqttClientTlsOptions
        {
            UseTls = true,
            TargetHost = address.Host,

            // A home's own authority publishes no revocations, and a broker must be reachable without the internet.
            RevocationMode = X509RevocationMode.NoCheck,
            IgnoreCertificateRevocationErrors = true,
            CertificateValidationHandler = arguments =>
            {
                certificateFaults(arguments.SslPolicyErrors);
                return arguments.SslPolicyErrors == SslPolicyErrors.None;
            },
        };
        if (address.AuthorityFile is { } authority)
        {
            tls.TrustChain = [];
            tls.TrustChain.ImportFromPemFile(authority);
        }

        if (address.CertificateFile is { } certificate)
        {
            tls.ClientCertificatesProvider = new DefaultMqttCertificatesProvider(
                new X509Certificate2Collection(X509Certificate2.CreateFromPemFile(certificate, address.KeyFile)));
        }

        return tls;
    }
}

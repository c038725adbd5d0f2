using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography;
using MQTTnet;
using MQTTnet.Exceptions;

namespace Chamber.Mqtt.Connection;

/// <summary>One clear sentence for each way in which joining a broker can fail: what is wrong, and what to do.</summary>
internal static class ConnectionFault
{
    public static string Explain(MqttClientConnectResult result, BrokerAddress address)
    {
        var server = $"The broker at {address.Host}:{address.Port}";
        return result.ResultCode switch
        {
            MqttClientConnectResultCode.BadUserNameOrPassword or MqttClientConnectResultCode.NotAuthorized =>
                address.User is null
                    ? $"{server} lets nobody in without user and password: give both."
                    : $"{server} refused the user \"{address.User}\": correct user and password.",
            MqttClientConnectResultCode.UnsupportedProtocolVersion =>
                $"{server} does not speak MQTT "
                + $"{(address.Version == MqttVersion.V5 ? "5: set the version to 3.1.1" : "3.1.1: set the version to 5")}.",
            MqttClientConnectResultCode.ClientIdentifierNotValid =>
                $"{server} refused the client id \"{address.ClientId}\": choose another.",
            _ => $"{server} refused the connection "
                + $"({result.ResultCode}{(string.IsNullOrEmpty(result.ReasonString) ? string.Empty : ": " + result.ReasonString)}): "
                + $"look at its log.",
        };
    }

    public static string Explain(Exception exception, SslPolicyErrors certificateFaults, BrokerAddress address)
    {
        var server = $"{address.Host}:{address.Port}";
        foreach (var cause in Causes(exception))
        {
            var sentence = cause switch
            {
                SocketException socket => Explain(socket, address, server),
                AuthenticationException => ExplainCertificate(certificateFaults, address, server),
                MqttProtocolViolationException =>
                    $"What answers at {server} is no MQTT broker{(address.Tls ? string.Empty : ", or it demands TLS")}: correct "
                    + $"host, port and TLS.",
                _ => null,
            };
            if (sentence is not null)
            {
                return sentence;
            }
        }

        return ExplainClosed(address, server);
    }

    public static string ExplainTimeout(BrokerAddress address) =>
        $"No answer from {address.Host}:{address.Port} within {address.TimeoutSeconds} s: check host, port, network and firewall.";

    /// <summary>What is wrong with a file that the address names; null when the exception is about something else.</summary>
    public static string? ExplainFile(Exception exception) => exception switch
    {
        IOException or UnauthorizedAccessException => $"A file of the connection cannot be read: {exception.Message}",
        CryptographicException => $"A certificate or key file of the connection cannot be used: {exception.Message}",
        _ => null,
    };

    private static string Explain(SocketException socket, BrokerAddress address, string server) => socket.SocketErrorCode switch
    {
        SocketError.ConnectionRefused => $"Nobody listens at {server}: start the broker, or correct host and port.",
        SocketError.HostNotFound or SocketError.TryAgain or SocketError.NoData =>
            $"The name \"{address.Host}\" is not known on this network: correct it, or give the broker's address.",
        SocketError.TimedOut or SocketError.HostUnreachable or SocketError.NetworkUnreachable =>
            $"No way to {server}: check network and firewall.",
        _ => ExplainClosed(address, server),
    };

    private static string ExplainCertificate(SslPolicyErrors faults, BrokerAddress address, string server)
    {
        if (faults.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch))
        {
            return $"The certificate of the broker at {server} is made out to another name: connect by the name that it holds, or renew it "
                + $"for {address.Host}.";
        }

        if (faults.HasFlag(SslPolicyErrors.RemoteCertificateChainErrors))
        {
            return address.AuthorityFile is null
                ? $"The certificate of the broker at {server} is signed by no authority that this system trusts, or has expired: give the "
                    + $"authority's file."
                : $"The certificate of the broker at {server} is not signed by the authority in {address.AuthorityFile}, or has expired: "
                    + $"give the file of the right authority.";
        }

        return $"What answers at {server} does not speak TLS as expected: correct the port, turn TLS off, or give the client certificate "
            + $"that it asks for.";
    }

    private static string ExplainClosed(BrokerAddress address, string server)
    {
        var certificate = address.Tls && address.CertificateFile is null ? ", or demands a client certificate" : string.Empty;
        return $"What answers at {server} closed the connection: it is no MQTT "
            + $"broker{(address.Tls ? string.Empty : ", or demands TLS")}{certificate}; correct host, port and TLS.";
    }

    private static IEnumerable<Exception> Causes(Exception? exception)
    {
        for (; exception is not null; exception = exception.InnerException)
        {
            yield return exception;
        }
    }
}

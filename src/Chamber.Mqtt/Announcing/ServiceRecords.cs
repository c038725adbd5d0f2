using System.Net;

namespace Chamber.Mqtt.Announcing;

/// <summary>The records by which a broker is found (DNS-SD, RFC 6763).</summary>
/// <param name="Instance">Its name for people.</param>
/// <param name="Service">What it is: <c>_mqtt._tcp</c>, or <c>_secure-mqtt._tcp</c> over TLS.</param>
/// <param name="Host">The name of this machine, without <c>.local</c>.</param>
/// <param name="Port">Where it listens.</param>
internal sealed record ServiceRecords(string Instance, string Service, string Host, int Port)
{
    private const string Services = "_services._dns-sd._udp.local";

    // RFC 6762 section 10: records with the name of a machine are kept two minutes, others seventy-five.
    private const uint OfHost = 120;
    private const uint OfOthers = 4500;

    private string Type => $"{Service}.local";

    private string FullName => $"{Instance.Replace(".", "\\.", StringComparison.Ordinal)}.{Type}";

    private string HostName => $"{Host}.local";

    /// <summary>All of them, with the address by which it is reached on one network.</summary>
    public IReadOnlyList<DnsRecord> All(IPAddress address) =>
    [
        new(Type, DnsWire.Ptr, DnsWire.Name(FullName), OfOthers, false),
        new(FullName, DnsWire.Srv, [0, 0, 0, 0, (byte)(Port >> 8), (byte)(Port & 0xFF), .. DnsWire.Name(HostName)], OfHost, true),
        new(FullName, DnsWire.Txt, [0], OfOthers, true),
        new(HostName, DnsWire.A, address.GetAddressBytes(), OfHost, true),
        new(Services, DnsWire.Ptr, DnsWire.Name(Type), OfOthers, false),
    ];

    /// <summary>Those that answer a question, and those that whoever asks will want next; none where it is not about this broker.</summary>
    public (IReadOnlyList<DnsRecord> Answers, IReadOnlyList<DnsRecord> More) Answer(DnsQuestion question, IPAddress address)
    {
        var all = All(address);
        IReadOnlyList<DnsRecord> answers = [.. all.Where(record =>
            string.Equals(record.Name, question.Name, StringComparison.OrdinalIgnoreCase)
            && (question.Type == record.Type || question.Type == DnsWire.Any))];
        return (answers, answers.Any(record => record.Name != Services && record.Type is DnsWire.Ptr or DnsWire.Srv)
            ? [.. all.Where(record => record.Name != Services).Except(answers)] : []);
    }
}

using System.Net;
using Chamber.Mqtt.Announcing;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>The broker is found by DNS-SD (RFC 6763) over multicast DNS (RFC 6762): asked by python3-zeroconf of Debian, a program of
/// others, on the loopback network.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class AnnouncerTests
{
    private const string Browse = """
        import sys
        from zeroconf import Zeroconf
        z = Zeroconf(interfaces=['127.0.0.1'])
        info = z.get_service_info('_mqtt._tcp.local.', 'Chamber at home._mqtt._tcp.local.', timeout=20000)
        print('none' if info is None else f"{info.server} {info.port} {','.join(info.parsed_addresses())}")
        z.close()
        """;

    [Fact]
    public async Task A_foreign_program_finds_the_broker()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var announcer = new Announcer("Chamber at home", "pantry.lan", 18_83, isTls: false, [IPAddress.Loopback], TimeProvider.System);
        var running = announcer.RunAsync(stop.Token);
        Assert.Equal("pantry.local. 1883 127.0.0.1", (await Oracle.Zeroconf(Browse)).Trim());
        await stop.CancelAsync();
        await running;
    }

    [Fact]
    public void What_is_no_question_is_none()
    {
        Assert.Empty(DnsWire.Questions([]));
        Assert.Empty(DnsWire.Questions(new byte[12]));

        // A name that points at itself has no end.
        Assert.Empty(DnsWire.Questions([0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0xC0, 12, 0, 12, 0, 1]));
        Assert.Empty(DnsWire.Questions(DnsWire.Response([], [])));
    }

    [Fact]
    public void A_question_is_read_as_it_was_written()
    {
        byte[] asked = [0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, .. DnsWire.Name("_mqtt._tcp.local"), 0, 12, 0, 1];
        Assert.Equal([new DnsQuestion("_mqtt._tcp.local", DnsWire.Ptr)], DnsWire.Questions(asked));
    }

    [Fact]
    public void Only_questions_about_the_broker_are_answered()
    {
        var records = new ServiceRecords("Chamber at home", "_mqtt._tcp", "pantry", 1883);
        Assert.Empty(records.Answer(new("_http._tcp.local", DnsWire.Ptr), IPAddress.Loopback).Answers);
        var (answers, more) = records.Answer(new("_MQTT._tcp.local", DnsWire.Ptr), IPAddress.Loopback);
        Assert.Equal([DnsWire.Ptr], answers.Select(record => record.Type));
        Assert.Equal([DnsWire.Srv, DnsWire.Txt, DnsWire.A], more.Select(record => record.Type));
    }
}

using System.Net;
using Chamber.Core.Alerts;
using Chamber.Service.Mirror;
using Chamber.Service.Tests.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Mirror;

/// <summary>The mirror and a server that answers as the InfluxDB v2 write API may (OSS v2 API reference, "Write data": 204, 400, 401, 404,
/// 413, 429, 503). Readings are invented; codes are those of HTTP (RFC 9110).</summary>
public sealed class ScriptedServerTests
{
    private static readonly Scripted Fine = new(HttpStatusCode.NoContent);

    [Fact]
    public async Task Lines_reach_the_bucket_packed_in_time_order_with_the_token()
    {
        await using var peer = await WritePeer.Start(_ => Fine);
        using var rig = Filled(peer.Url, 50);
        rig.Settings = rig.Settings with { Token = "t0ken", Organization = "our home", Bucket = "seeds" };
        using var server = new MirrorServer(rig.Settings, rig.Data);

        await rig.PumpDry(server.SendAsync);

        var (lines, address, authorization, encoding) = peer.Requests[0];
        Assert.Equal(("Token t0ken", "gzip"), (authorization, encoding));
        Assert.StartsWith("/api/v2/write?", address, StringComparison.Ordinal);
        Assert.All((string[])["precision=ms", "org=our%20home", "bucket=seeds"],
            part => Assert.Contains(part, address.Replace("+", "%20", StringComparison.Ordinal), StringComparison.Ordinal));
        Assert.Equal(["chamber_reading,probe=mat temperature_celsius=20 1769925600000",
            "chamber_reading,probe=shelf temperature_celsius=20 1769925600000"], lines.Take(2));
        Assert.Equal(lines.Select(Time).Order(), lines.Select(Time));
    }

    [Fact]
    public async Task A_line_that_is_refused_is_set_aside_alone_and_the_others_arrive()
    {
        await using var peer = await WritePeer.Start(lines => lines.Any(IsBad) ? new(HttpStatusCode.BadRequest) : Fine);
        using var rig = Filled(peer.Url, 300);
        using var server = new MirrorServer(rig.Settings, rig.Data);

        await rig.PumpDry(server.SendAsync);

        Assert.Equal(1, rig.Cursor.SetAside);
        var kept = await File.ReadAllLinesAsync(rig.Data.MirrorRefused, TestContext.Current.CancellationToken);
        Assert.Equal(2, kept.Length);
        Assert.Contains("said by the test (400)", kept[0], StringComparison.Ordinal);
        Assert.True(IsBad(kept[1]));
        Assert.Equal(599, peer.Taken.Count(line => line.StartsWith("chamber_reading,", StringComparison.Ordinal)));
        Assert.Equal(peer.Taken.Count, peer.Taken.Distinct().Count());

        // Halving finds one in 500 by about 2 log2 500 = 18 requests, not by 500.
        Assert.InRange(peer.Requests.Count, 1, 25);

        static bool IsBad(string line) => line.StartsWith("chamber_reading,probe=shelf ", StringComparison.Ordinal)
            && line.EndsWith(" 1769932800000", StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_refuses_everything_gets_nothing_set_aside()
    {
        var answer = new Scripted(HttpStatusCode.BadRequest);
        await using var peer = await WritePeer.Start(_ => answer);
        using var rig = Filled(peer.Url, 300);
        using var server = new MirrorServer(rig.Settings, rig.Data);

        var step = await rig.Pump(server.SendAsync).StepAsync(TestContext.Current.CancellationToken);

        Assert.StartsWith("the server refuses every line", step.Trouble, StringComparison.Ordinal);
        Assert.False(File.Exists(rig.Data.MirrorRefused));
        answer = Fine;
        await rig.PumpDry(server.SendAsync);
        Assert.Equal(0, rig.Cursor.SetAside);
        Assert.Equal(600, peer.Taken.Count(line => line.StartsWith("chamber_reading,", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_request_that_is_too_large_is_halved_and_the_next_ones_fit_at_once()
    {
        await using var peer = await WritePeer.Start(lines => lines.Count > 100 ? new(HttpStatusCode.RequestEntityTooLarge) : Fine);
        using var rig = Filled(peer.Url, 1000);
        using var server = new MirrorServer(rig.Settings, rig.Data);

        await rig.PumpDry(server.SendAsync);

        Assert.Equal(2000, peer.Taken.Count(line => line.StartsWith("chamber_reading,", StringComparison.Ordinal)));
        Assert.Equal(peer.Taken.Count, peer.Taken.Distinct().Count());
        Assert.Equal(peer.Taken.Where(line => line.StartsWith("chamber_reading,", StringComparison.Ordinal)).Select(Time).Order(),
            peer.Taken.Where(line => line.StartsWith("chamber_reading,", StringComparison.Ordinal)).Select(Time));
        Assert.InRange(peer.Requests.Count(request => request.Lines.Count > 100), 1, 8);
    }

    [Theory]
    [InlineData(401, "mirror.token")]
    [InlineData(403, "mirror.token")]
    [InlineData(404, "mirror.bucket")]
    [InlineData(429, "pause")]
    [InlineData(500, "trouble")]
    [InlineData(503, "trouble")]
    public async Task What_may_pass_is_waited_for_and_told_with_the_fix(int status, string told)
    {
        var answer = new Scripted((HttpStatusCode)status);
        await using var peer = await WritePeer.Start(_ => answer);
        using var rig = Filled(peer.Url, 20);
        using var server = new MirrorServer(rig.Settings, rig.Data);
        var pump = rig.Pump(server.SendAsync);

        var step = await pump.StepAsync(TestContext.Current.CancellationToken);

        Assert.Contains(told, step.Trouble, StringComparison.Ordinal);
        Assert.Equal(0, rig.Cursor.Sent);
        answer = Fine;
        await rig.PumpDry(server.SendAsync);
        Assert.Equal(40, peer.Taken.Count(line => line.StartsWith("chamber_reading,", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData(429)]
    [InlineData(503)]
    public async Task The_server_says_how_long_to_wait(int status)
    {
        await using var peer = await WritePeer.Start(_ => new((HttpStatusCode)status, RetryAfter: "37"));
        using var rig = Filled(peer.Url, 20);
        using var server = new MirrorServer(rig.Settings, rig.Data);

        var step = await rig.Pump(server.SendAsync).StepAsync(TestContext.Current.CancellationToken);

        Assert.Equal(TimeSpan.FromSeconds(37), step.After);
        Assert.Equal(TimeSpan.FromSeconds(37), (await Waits(1, step.After))[0]);
    }

    [Fact]
    public async Task Waits_grow_are_jittered_and_have_an_end()
    {
        var waits = await Waits(40, null);

        Assert.InRange(waits[0].TotalSeconds, 0, 2);
        Assert.All(waits, wait => Assert.InRange(wait, TimeSpan.Zero, MirrorBackOff.Longest));
        Assert.True(waits.Take(4).Max() < waits.Skip(8).Take(8).Max());
        Assert.Contains(MirrorBackOff.Longest, waits);
        Assert.Equal(8, waits.Take(8).Distinct().Count());
    }

    [Fact]
    public async Task A_server_may_not_ask_for_a_pause_without_end_or_to_be_asked_for_ever()
    {
        Assert.Equal(TimeSpan.FromHours(1), (await Waits(1, TimeSpan.FromDays(1)))[0]);

        Assert.Equal([1, 2, 4, 8, 16], (await Waits(5, TimeSpan.FromSeconds(1))).Select(wait => wait.TotalSeconds));
    }

    // A server that is away so many times, each with what it asks; the waits before it is asked again.
    private static async Task<List<TimeSpan>> Waits(int times, TimeSpan? asked)
    {
        var (clock, waits) = (new FakeTimeProvider(), new List<TimeSpan>());
        var patience = MirrorBackOff.Of(clock, new Random(1), (_, wait) => waits.Add(wait));
        var tried = patience.ExecuteAsync(_ => ValueTask.FromResult(new PumpStep(0, waits.Count < times ? "away" : null, asked, [])),
            TestContext.Current.CancellationToken).AsTask();
        await Wait.Until("the last try", () =>
        {
            clock.Advance(MirrorBackOff.AskedMax);
            return tried.IsCompleted;
        });
        await tried;
        return waits;
    }

    [Fact]
    public async Task An_alert_is_told_when_it_opens_and_when_it_closes()
    {
        await using var peer = await WritePeer.Start(_ => Fine);
        using var rig = new MirrorRig(peer.Url);
        using var server = new MirrorServer(rig.Settings, rig.Data);
        var opened = DataFile.Start;
        var alert = new AlertEntry(0, AlertKind.TooCold, new(SubjectKind.Spot, "sill"), Severity.Warning, opened, opened,
            "{}");
        alert = alert with { Number = rig.Store.Ledger.Alerts.Save(alert) };
        await rig.PumpDry(server.SendAsync);
        rig.Restart();
        rig.Store.Ledger.Alerts.Save(
            alert with { ClosedAt = opened + NodaTime.Duration.FromHours(2), CloseReason = CloseReason.Over, Severity = Severity.Urgent });
        await rig.PumpDry(server.SendAsync);
        await rig.PumpDry(server.SendAsync);

        Assert.Equal(
            [
                "chamber_alert,kind=too-cold,subject=sill,subject_kind=spot open=1,severity=2 1769925600000",
                "chamber_alert,kind=too-cold,subject=sill,subject_kind=spot open=0,severity=3 1769932800000",
            ],
            peer.Taken);
    }

    private static MirrorRig Filled(string url, int minutes)
    {
        var rig = new MirrorRig(url);
        rig.Store.Journal.Append([.. DataFile.Minutes(0, minutes, "shelf"), .. DataFile.Minutes(0, minutes, "mat")], []);
        return rig;
    }

    private static long Time(string line) =>
        long.Parse(line[(line.LastIndexOf(' ') + 1)..], System.Globalization.CultureInfo.InvariantCulture);
}

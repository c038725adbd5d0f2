using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Tests.Commands;
using Chamber.Service.Workers;
using Chamber.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using MQTTnet;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Service.Tests.Demo;

/// <summary>
/// The whole service on its own data directory, with its broker, and a clock that the recording moves: each message is
/// published when its time has come and each line typed, and two weeks pass in as long as that takes.
/// </summary>
internal sealed class ReplayedFlat : IAsyncDisposable
{
    // Two weeks of commits would wait for a disk most of the time, and no power is cut here.
    private static readonly string Memory = Directory.Exists("/dev/shm") ? "/dev/shm" : Path.GetTempPath();

    private readonly string data = Directory.CreateDirectory(Path.Combine(Memory, $"chamber-replay-{Environment.ProcessId}")).FullName;
    private readonly FakeTimeProvider clock;
    private readonly WebApplication service;
    private readonly IMqttClient probes = new MqttClientFactory().CreateMqttClient();
    private readonly List<Task> published = [];
    private readonly int port = FreePort.Next();
    private readonly WatchInbox inbox;
    private readonly WatchPulse pulse;

    private ReplayedFlat()
    {
        clock = new(RecordedFlat.Typed().First().At.ToDateTimeOffset());
        File.Copy(Path.Combine(RecordedFlat.Folder, "chamber.json"), Path.Combine(data, "chamber.json"));
        var home = SettingsFile.Load(new(data), []);
        service = ChamberHost.Build(home with { Broker = new() { Listen = [new() { Port = port }] }, Page = new() { On = false } },
            new(data), clock, json: true);
        inbox = service.Services.GetRequiredService<WatchInbox>();
        pulse = service.Services.GetRequiredService<WatchPulse>();
    }

    public static async Task<ReplayedFlat> Play()
    {
        var flat = new ReplayedFlat();
        await flat.service.StartAsync();
        await flat.probes.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", flat.port).Build());
        await flat.PlayAll();
        return flat;
    }

    /// <summary>What a command line answers at the end, as JSON.</summary>
    public async Task<string> Answer(string line)
    {
        var outcome = await InProcess.Run(clock, [.. line.Split(' '), "--json", "--data", data]);
        Assert.True(outcome.Code == 0, $"{line}: {outcome.Error}");
        return outcome.Out;
    }

    public async ValueTask DisposeAsync()
    {
        probes.Dispose();
        await service.StopAsync();
        await service.DisposeAsync();
        Directory.Delete(data, recursive: true);
    }

    private async Task PlayAll()
    {
        using var typed = RecordedFlat.Typed().GetEnumerator();
        var more = typed.MoveNext();
        foreach (var (at, topic, payload) in RecordedFlat.Messages())
        {
            for (; more && typed.Current.At <= at; more = typed.MoveNext())
            {
                await GoOn(typed.Current.At);
                await Type(typed.Current.Line);
            }

            // A bare number counts from when it arrives, so its time must be now.
            if (payload[0] is not ('{' or '['))
            {
                await GoOn(at);
            }

            published.Add(probes.PublishStringAsync(topic, payload, MqttQualityOfServiceLevel.AtLeastOnce, retain: false));
        }

        await GoOn(FlatEnd);
    }

    private static Instant FlatEnd => Service.Demo.FlatRecording.Ends;

    private async Task Type(string line)
    {
        var outcome = await InProcess.Run(clock, [.. line.Split(' '), "--data", data]);
        Assert.True(outcome.Code == 0, $"{line}: {outcome.Error}");
    }

    // Acknowledged is committed. What the watch makes of it may depend on the clock, so the clock stands until the watch is through,
    // and nothing is sent or typed before the watch has seen the new time.
    private async Task GoOn(Instant at)
    {
        await Task.WhenAll(published);
        published.Clear();
        if (at.ToDateTimeOffset() > clock.GetUtcNow())
        {
            await Settle();
            clock.SetUtcNow(at.ToDateTimeOffset());
        }

        await Settle();
    }

    // The round that ends first may have begun before all was there; the one after it has not.
    private async Task Settle()
    {
        await ComeRound();
        await ComeRound();
    }

    private async Task ComeRound()
    {
        var before = pulse.Rounds;
        await inbox.PostAsync(new([], []), TestContext.Current.CancellationToken);
        await Wait.Until("the watch to come round", () => pulse.Trouble is { } trouble ? throw new InvalidOperationException(trouble)
            : pulse.Rounds != before);
    }
}

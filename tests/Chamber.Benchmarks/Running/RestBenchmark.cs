using System.Diagnostics;
using System.Globalization;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// The service as its own process: how soon it is ready, how much memory twenty probes take, and whether a million
/// messages make it grow. Give the program to measure: the published one, or the built one without an argument.
/// </summary>
internal static class RestBenchmark
{
    private const int Probes = 20;
    private const int Starts = 5;
    private const int InFlight = 500;
    private static readonly TimeSpan Spacing = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Rest = TimeSpan.FromSeconds(20);

    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        var messages = arguments is [_, var count, ..] ? int.Parse(count, CultureInfo.InvariantCulture) : 1_000_000;
        using var folder = new TempFolder();
        var broker = FreePort.Next();
        folder.Write("chamber.json", $$"""{ "page": { "port": {{FreePort.Next()}} }, "broker": { "listen": [{ "port": {{broker}} }] } }""");
        await SetUp(program, folder.Path);
        await TimeStarts(program, folder.Path);

        await using var service = await Start(program, folder.Path);
        using var client = await Connect(broker);
        var from = TimeProvider.System.GetUtcNow() - (Spacing * (messages / Probes)) - TimeSpan.FromMinutes(1);
        await Publish(client, from, 0, Probes * 10);
        await Show(service, "20 probes have spoken, at rest");
        var clock = Stopwatch.StartNew();
        for (var (sent, step) = (Probes * 10, messages / 5); sent < messages; sent += step)
        {
            await Publish(client, from, sent, Math.Min(sent + step, messages));
            await Show(service,
                string.Create(CultureInfo.InvariantCulture, $"after {Math.Min(sent + step, messages):N0} messages, at rest"));
        }

        Measure.Say(
            $"{messages / (clock.Elapsed - (5 * Rest)).TotalSeconds:N0} messages/s, each acknowledged at QoS 1 once it was on the disk");
        return 0;
    }

    private static async Task SetUp(string program, string data)
    {
        for (var probe = 0; probe < Probes; probe++)
        {
            (await RunningProgram.Run(program, ["spot", "add", $"spot-{probe}", "--data", data])).Succeeded();
            (await RunningProgram.Run(program,
                ["probe", "add", $"probe-{probe}", "--measures", "media", "--spot", $"spot-{probe}", "--data", data])).Succeeded();
        }
    }

    private static async Task TimeStarts(string program, string data)
    {
        var times = new List<(double Clock, double Processor)>();
        for (var run = 0; run < Starts; run++)
        {
            var clock = Stopwatch.StartNew();
            await using var service = await Start(program, data);
            times.Add((clock.Elapsed.TotalSeconds, Process.GetProcessById(service.Id).TotalProcessorTime.TotalSeconds));
            service.AskToStop();
            await service.End();
        }

        // The first start of a new program reads it from the disk, and a single file unpacks itself.
        Measure.Say(
            $"ready after {times[0].Clock:F2} s at first, then {times[1..].Min(time => time.Clock):F2} to {times[1..].Max(time => time.Clock):F2} s; processor time {times[1..].Min(time => time.Processor):F2} to {times[1..].Max(time => time.Processor):F2} s");
    }

    private static async Task<RunningProgram> Start(string program, string data)
    {
        var service = RunningProgram.Start(program, ["run", "--data", data]);
        await service.Line("Chamber is ready");
        return service;
    }

    private static async Task<IMqttClient> Connect(int port)
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).Build());
        return client;
    }

    private static async Task Publish(IMqttClient client, DateTimeOffset from, int first, int end)
    {
        var waiting = new Queue<Task>();
        for (var number = first; number < end; number++)
        {
            var at = from + (Spacing * (number / Probes));
            var temperature = 22 + (2 * Math.Sin(at.TimeOfDay / TimeSpan.FromDays(1) * Math.Tau)) + (number % 7 * 0.02);
            var payload = string.Create(CultureInfo.InvariantCulture,
                $$"""{ "temperature": {{temperature:F2}}, "humidity": 45, "at": "{{at:yyyy-MM-ddTHH:mm:ssZ}}" }""");
            waiting.Enqueue(
                client.PublishStringAsync($"chamber/probe-{number % Probes}/reading", payload, MqttQualityOfServiceLevel.AtLeastOnce));
            if (waiting.Count >= InFlight)
            {
                await waiting.Dequeue();
            }
        }

        await Task.WhenAll(waiting);
    }

    private static async Task Show(RunningProgram service, string when)
    {
        await Task.Delay(Rest, TimeProvider.System);
        var status = await File.ReadAllLinesAsync($"/proc/{service.Id}/status");
        Measure.Say(
            $"{when,-40} {Megabytes(status, "VmRSS"),6:F0} MB resident, {Megabytes(status, "RssAnon"),6:F0} MB of it its own, peak {Megabytes(status, "VmHWM"),6:F0} MB");
    }

    private static double Megabytes(string[] status, string field) =>
        double.Parse(status.Single(line => line.StartsWith(field + ":", StringComparison.Ordinal)).Split(' ', '\t')
            .First(word => word.Length > 0 && char.IsAsciiDigit(word[0])), CultureInfo.InvariantCulture) / 1024;
}

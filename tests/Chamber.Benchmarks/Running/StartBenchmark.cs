using System.Diagnostics;
using System.Globalization;
using Chamber.Testing;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// What the start of a command costs, as a multiple of an empty .NET program that is made in the same run. Processor time, the least
/// and the middle of several rounds in which all take turns: a busy machine distorts that little; until the service is ready, by the
/// clock too. Give the program to measure: the published one, or the built one without an argument.
/// </summary>
internal static class StartBenchmark
{
    private const int Rounds = 11;

    private static readonly string[][] Questions =
    [
        ["about"], ["crops", "tomato"], ["completion", "bash"], ["forecast", "--help"], ["spots"], ["lots"], ["batches"], ["alerts"],
        ["todo"], ["review", "T1"], ["place"], ["season"], ["hindsight"],
    ];

    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        using var folder = new TempFolder();
        var empty = await Empty(folder);
        var data = folder.File("demo");
        await Furnish(program, data);
        var contenders = new List<(string Name, Func<Task<double>> Start)> { ("an empty program", () => ProcessorTime.Of(empty, [])) };
        foreach (var words in Questions)
        {
            contenders.Add((string.Join(' ', words), () => ProcessorTime.Of(program, [.. words, "--data", data])));
        }

        var clock = new List<double>();
        contenders.Add(("run, until it is ready", () => Ready(program, data, clock)));
        var times = contenders.ToDictionary(one => one.Name, _ => new List<double>());
        for (var round = 0; round < Rounds; round++)
        {
            foreach (var (name, start) in contenders)
            {
                times[name].Add(await start());
            }
        }

        var least = times[contenders[0].Name].Min();
        var middle = ProcessorTime.Middle(times[contenders[0].Name]);
        foreach (var (name, _) in contenders)
        {
            Measure.Say(
                $"{name,-24} least {times[name].Min() * 1000,5:F0} ms, {times[name].Min() / least,5:F1} times empty; middle {ProcessorTime.Middle(times[name]) * 1000,5:F0} ms, {ProcessorTime.Middle(times[name]) / middle,5:F1} times empty");
        }

        Measure.Say($"run, until it is ready, by the clock: least {clock.Min() * 1000:F0} ms, middle {ProcessorTime.Middle(clock) * 1000:F0} ms");
        return 0;
    }

    private static async Task<string> Empty(TempFolder folder)
    {
        folder.Write("empty/Empty.csproj", """
            <Project Sdk="Microsoft.NET.Sdk">
              <PropertyGroup>
                <OutputType>Exe</OutputType>
                <TargetFramework>net10.0</TargetFramework>
                <InvariantGlobalization>true</InvariantGlobalization>
              </PropertyGroup>
            </Project>
            """);
        folder.Write("empty/Program.cs", "return 0;");
        (await RunningProgram.Run("dotnet", ["build", folder.File("empty"), "-c", "Release", "-o", folder.File("empty/made"), "-v", "q"],
            patience: TimeSpan.FromMinutes(10))).Succeeded();
        return folder.File("empty/made/Empty");
    }

    // The demo's home, as it stands when it is ready.
    private static async Task Furnish(string program, string data)
    {
        await using var demo = RunningProgram.Start(program, ["demo", "--data", data, "--speed", "1", "--page-port",
            Number(FreePort.Next()), "--broker-port", Number(FreePort.Next())]);
        await demo.Line("Chamber is ready");
        demo.AskToStop();
        await demo.End();
    }

    private static async Task<double> Ready(string program, string data, List<double> clock)
    {
        var begun = Stopwatch.GetTimestamp();
        await using var service = RunningProgram.Start(program, ["run", "--data", data]);
        await service.Line("Chamber is ready");
        clock.Add(Stopwatch.GetElapsedTime(begun).TotalSeconds);
        var taken = Process.GetProcessById(service.Id).TotalProcessorTime;
        service.AskToStop();
        await service.End();
        return taken.TotalSeconds;
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}

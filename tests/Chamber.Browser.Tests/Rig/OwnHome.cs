using System.Globalization;
using Chamber.Storage;
using Chamber.Testing;

namespace Chamber.Browser.Tests.Rig;

/// <summary>A home of a test's own: nothing in it but what the test does, its own ports, its own data directory.</summary>
public sealed class OwnHome : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly int pagePort = FreePort.Next();
    private readonly int brokerPort = FreePort.Next();
    private readonly string pageIp;
    private RunningProgram? service;

    private OwnHome(string pageIp, string settings = "")
    {
        this.pageIp = pageIp;
        folder.Write("chamber.json", $$"""
            { "broker": { "listen": [{ "port": {{brokerPort}} }] }, "page": { "address": "{{pageIp}}", "port": {{pagePort}} }{{settings}} }
            """);
    }

    public string Address => $"{(pageIp == "127.0.0.1" ? "http" : "https")}://{pageIp}:{pagePort}";

    public string DataDirectory => folder.Path;

    /// <summary>What the service's console says.</summary>
    public RunningProgram Console => service ?? throw new InvalidOperationException("The service does not run.");

    /// <param name="pageIp">On which address the page is; any but the loopback one demands a sign-in.</param>
    /// <param name="furnish">What to do with the command line before the service starts.</param>
    public static async Task<OwnHome> Start(string pageIp = "127.0.0.1", params string[] furnish)
    {
        var home = new OwnHome(pageIp);
        foreach (var line in furnish)
        {
            await home.Do(line.Split(' '));
        }

        await home.StartService();
        return home;
    }

    /// <param name="settings">Further members of chamber.json, beginning with a comma.</param>
    public static async Task<OwnHome> StartWith(string settings)
    {
        var home = new OwnHome("127.0.0.1", settings);
        await home.StartService();
        return home;
    }

    /// <param name="furnish">What to write before the service starts.</param>
    public static async Task<OwnHome> Start(Action<ChamberStore> furnish)
    {
        var home = new OwnHome("127.0.0.1");
        using (var store = ChamberStore.Open(Path.Combine(home.folder.Path, "chamber.db")))
        {
            furnish(store);
        }

        await home.StartService();
        return home;
    }

    /// <summary>One line of the command line on this home, whether or not the service runs.</summary>
    public async Task<string> Do(params string[] arguments) =>
        (await ChamberProcess.Run([.. arguments, "--data", folder.Path])).Succeeded();

    /// <summary>A sensor speaks: a real publisher sends a real message.</summary>
    public async Task Publish(string probe, string payload) => (await RunningProgram.Run(
        "mosquitto_pub",
        ["-h", "127.0.0.1", "-p", brokerPort.ToString(CultureInfo.InvariantCulture), "-q", "1", "-t", $"chamber/{probe}/reading", "-m",
            payload])).Succeeded();

    /// <summary>A sensor speaks many times without a break.</summary>
    public async Task PublishLines(string probe, IEnumerable<string> payloads) => (await RunningProgram.Run(
        "mosquitto_pub",
        ["-h", "127.0.0.1", "-p", brokerPort.ToString(CultureInfo.InvariantCulture), "-q", "1", "-t", $"chamber/{probe}/reading", "-l"],
        string.Join('\n', payloads) + "\n")).Succeeded();

    public async Task StopService()
    {
        Console.AskToStop();
        await Console.End();
        await Console.DisposeAsync();
        service = null;
    }

    public async Task StartService()
    {
        service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
    }

    public async ValueTask DisposeAsync()
    {
        if (service is not null)
        {
            await service.DisposeAsync();
        }

        folder.Dispose();
    }
}

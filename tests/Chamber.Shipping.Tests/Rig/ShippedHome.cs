using System.Text.Json;
using Chamber.Testing;

namespace Chamber.Shipping.Tests.Rig;

/// <summary>A home on a published program, with ports and its own data directory.</summary>
internal sealed class ShippedHome : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly string program;
    private readonly Dictionary<string, string?> environment;

    public ShippedHome(string program)
    {
        this.program = program;
        environment = new()
        {
            ["CHAMBER_DATA"] = folder.File("data"),
            ["DOTNET_BUNDLE_EXTRACT_BASE_DIR"] = folder.File("unpacked"),
            ["DOTNET_ROOT"] = null,
            ["TZ"] = "UTC",
        };
        folder.Write("data/chamber.json",
            $$"""{ "page": { "port": {{PagePort}} }, "broker": { "listen": [{ "port": {{BrokerPort}} }] } }""");
    }

    public int PagePort { get; } = FreePort.Next();

    public int BrokerPort { get; } = FreePort.Next();

    public string File(string name) => folder.File(name);

    public async Task<string> Ask(string line) =>
        (await RunningProgram.Run(program, line.Split(' '), environment: environment)).Succeeded();

    public async Task<JsonElement> Json(string line) => JsonDocument.Parse(await Ask(line + " --json")).RootElement;

    /// <summary>Runs it as a service; ready when this returns.</summary>
    public async Task<RunningProgram> Run()
    {
        var service = RunningProgram.Start(program, ["run"], environment: environment);
        await service.Line("Chamber is ready");
        return service;
    }

    public void Dispose() => folder.Dispose();
}

using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Service.Tests.Hub;

/// <summary>The built program on a real foreign broker, announcing a home to a hub. What a description may hold is in
/// tests/cases/hub, from what the convention publishes. Readings are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class HubAnnouncementTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_hub_is_told_as_published_and_forgets_what_is_taken_back()
    {
        await using var broker = await Mosquitto.Start();
        var page = FreePort.Next();
        folder.Write("chamber.json", $$"""
            { "broker": { "own": false, "host": "127.0.0.1", "port": {{broker.Port}} }, "page": { "port": {{page}} }, "hub": { "prefix": "hub" } }
            """);
        await Ask("spot", "add", "mat", "--kind", "heat-mat");
        await Ask("spot", "add", "Küche.1");
        await Ask("sow", "tomato", "--seeds", "12", "--spot", "mat", "--name", "T1");
        await Ask("read", "mat", "55C", "--sure");
        await using var hub = await broker.Subscribe("#");
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");

        var told = await hub.Line(line => line.StartsWith("hub/binary_sensor/chamber/batch-T1-problem/config ", StringComparison.Ordinal),
            "the last description");
        Assert.Contains("{", told, StringComparison.Ordinal);
        var hot = await hub.Line(line => line.StartsWith("chamber/service/hub/spot/mat ", StringComparison.Ordinal)
            && line.Contains("Unplug", StringComparison.Ordinal), "the danger with what to do");
        var state = JsonDocument.Parse(hot[(hot.IndexOf(' ', StringComparison.Ordinal) + 1)..]).RootElement;
        Assert.Equal(55, state.GetProperty("temperature").GetDouble());
        Assert.NotEmpty(state.GetProperty("alerts")[0].GetProperty("caution").GetString()!);
        var told2 = Messages(hub.Output).Where(message => message.Topic.StartsWith("hub/", StringComparison.Ordinal)).ToList();
        Assert.Equal(10, told2.Select(message => message.Topic).Distinct().Count());
        Assert.All(told2, message => Conforms(message.Topic, message.Payload));

        using var http = new HttpClient { BaseAddress = new($"http://127.0.0.1:{page}") };
        (await http.DeleteAsync("/api/settings/hub", TestContext.Current.CancellationToken)).EnsureSuccessStatusCode();
        await hub.Line(line => line.TrimEnd() is "hub/sensor/chamber/spot-mat-temperature/config"
            or "hub/sensor/chamber/spot-mat-temperature/config (null)", "the empty description");
        await Wait.Until("the file of topics is gone", () => !File.Exists(Path.Combine(folder.Path, "hub-topics.txt")));
    }

    private static void Conforms(string topic, string payload)
    {
        var form = TopicForm().Match(topic);
        Assert.True(form.Success, topic);
        var keys = File.ReadAllLines(SourceTree.Path("tests", "cases", "hub", "keys.txt")).Where(line => line[0] != '#')
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries)).ToLookup(cells => cells[0]);
        var config = JsonDocument.Parse(payload).RootElement;
        Assert.All(keys[form.Groups[1].Value].Where(cells => cells[3] == "required"),
            cells => Assert.True(config.TryGetProperty(cells[1], out _)));
        Known(config, keys[form.Groups[1].Value]);
        Known(config.GetProperty("device"), keys["device"]);
        Assert.NotEmpty(config.GetProperty("device").GetProperty("identifiers").EnumerateArray());
        Assert.NotEmpty(config.GetProperty("unique_id").GetString()!);
    }

    private static void Known(JsonElement config, IEnumerable<string[]> keys) => Assert.All(config.EnumerateObject(), member =>
    {
        var type = keys.Single(cells => cells[1] == member.Name)[2];
        Assert.Equal(type switch { "string" => JsonValueKind.String, "list" => JsonValueKind.Array, "map" => JsonValueKind.Object,
            _ => JsonValueKind.Number }, member.Value.ValueKind);
    });

    private static IEnumerable<(string Topic, string Payload)> Messages(string output) => output.Split('\n')
        .Where(line => line.Contains(" {", StringComparison.Ordinal))
        .Select(line => (line[..line.IndexOf(' ', StringComparison.Ordinal)], line[(line.IndexOf(' ', StringComparison.Ordinal) + 1)..]));

    private async Task Ask(params string[] arguments) => (await ChamberProcess.Run([.. arguments, "--data", folder.Path])).Succeeded();

    [GeneratedRegex("^hub/(sensor|binary_sensor)/[A-Za-z0-9_-]+/[A-Za-z0-9_-]+/config$")]
    private static partial Regex TopicForm();
}

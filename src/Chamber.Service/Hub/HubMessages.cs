using System.Text.Json;
using System.Text.Json.Nodes;
using Chamber.Core.Alerts;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Watching;

namespace Chamber.Service.Hub;

/// <summary>Everything that a home-automation hub is told of this home: spots, batches with their countdowns, alerts. Temperatures are in
/// °C, the hub turns them into its own unit.</summary>
/// <param name="home">The home.</param>
/// <param name="prefix">Under which topic the hub listens.</param>
/// <param name="node">Which Chamber this is, for hubs with several.</param>
internal sealed class HubMessages(HomeReader home, string prefix, string node)
{
    // A value that nobody knows is unknown to the hub, not an error in its log.
    private const string OrUnknown = " | default('unknown', true) }}";

    private readonly Dictionary<string, byte[]> messages = [];
    private readonly IReadOnlyList<AlertAnswer> alerts = [.. new HomeAlerts(home, new(false, home.Zone)).Open().Select(one => one.Words)];

    /// <summary>Each retained topic with its payload.</summary>
    public IReadOnlyDictionary<string, byte[]> All()
    {
        Home();
        foreach (var spot in home.Spots())
        {
            Spot(SpotNowAnswer.Of(home, new(spot, home.Survey(spot.Id, home.Now))));
        }

        foreach (var batch in home.Ledger.OpenBatches)
        {
            Batch(BatchAnswer.Of(home.AtNow.Diagnoses.Of(batch)));
        }

        return messages;
    }

    private void Home()
    {
        var device = new HubDevice("home", "all", "Chamber", "home");
        Put(device, new() { ["open"] = alerts.Count, ["alerts"] = Words(alerts) },
            new HubEntity("sensor", device, "alerts", "Open alerts", "{{ value_json.open }}") { HasAttributes = true });
    }

    private void Spot(SpotNowAnswer spot)
    {
        var device = new HubDevice("spot", spot.Spot.Text, home.Ledger.Names.Of(spot.Spot), "warm spot");
        var own = About(SubjectKind.Spot, spot.Spot.Text).Concat(spot.Probes.SelectMany(probe => About(SubjectKind.Probe, probe.Text)));
        Put(device, new()
        {
            ["temperature"] = Rounded(spot.Temperature?.Celsius, 1),
            ["survey"] = Choice.Word(spot.Survey),
            ["batches"] = new JsonArray([.. spot.Batches.Select(batch => (JsonNode)batch.Text)]),
            ["alerts"] = Words(own),
        },
        [
            new("sensor", device, "temperature", "Temperature", "{{ value_json.temperature" + OrUnknown)
                { Unit = "°C", Class = "temperature", IsMeasured = true },
            Problem(device),
        ]);
    }

    private void Batch(BatchAnswer batch)
    {
        var crop = home.Catalog.Find(batch.Crop);
        var name = $"{home.Ledger.Names.Of(batch.Batch)} {crop?.CommonName ?? batch.Crop.Text}";
        var device = new HubDevice("batch", batch.Batch.Text, name, "batch of seed");
        var ranked = crop is not null && batch.Spot is { } on && home.Spots().FirstOrDefault(spot => spot.Id == on) is { } spot
            ? HomeRankings.Best(home, crop, [new(spot, home.Survey(on, home.Now))]) : null;
        Put(device, new()
        {
            ["spot"] = batch.Spot?.Text,
            ["seeds"] = batch.Seeds,
            ["up"] = batch.Up ?? 0,
            ["daysToHalf"] = Days(batch.Forecast?.Half.Mid),
            ["daysToStop"] = Days(batch.Forecast?.StopWaiting),
            ["suitability"] = Rounded(ranked?.Suitability.Score, 0),
            ["confidence"] = Rounded(ranked?.Suitability.Confidence, 0),
            ["alerts"] = Words(About(SubjectKind.Batch, batch.Batch.Text)),
        },
        [
            new("sensor", device, "up", "Up", "{{ value_json.up }}") { IsMeasured = true },
            new("sensor", device, "half", "Half up in", "{{ value_json.daysToHalf" + OrUnknown) { Unit = "d", Class = "duration" },
            new("sensor", device, "stop", "Stop waiting in", "{{ value_json.daysToStop" + OrUnknown) { Unit = "d", Class = "duration" },
            new("sensor", device, "suitability", "Suitability of its spot", "{{ value_json.suitability" + OrUnknown)
                { Unit = "%", IsMeasured = true, HasAttributes = true },
            Problem(device),
        ]);
    }

    private static HubEntity Problem(HubDevice device) =>
        new("binary_sensor", device, "problem", "Needs a hand", "{{ 'ON' if value_json.alerts else 'OFF' }}")
            { Class = "problem", HasAttributes = true };

    private IEnumerable<AlertAnswer> About(SubjectKind kind, string name) =>
        alerts.Where(alert => alert.SubjectKind == kind && alert.Subject == name);

    // The caution stays with what is to be done.
    private static JsonArray Words(IEnumerable<AlertAnswer> of) => new([.. of.Select(alert => (JsonNode)new JsonObject
    {
        ["title"] = alert.Title,
        ["severity"] = Choice.Word(alert.Severity),
        ["toDo"] = alert.ToDo,
        ["caution"] = alert.Caution,
    })]);

    private double? Days(NodaTime.Instant? at) => at is { } then ? Rounded(Math.Max(0, (then - home.Now).TotalDays), 1) : null;

    private static double? Rounded(double? number, int places) => number is { } known ? Math.Round(known, places) : null;

    private void Put(HubDevice device, JsonObject state, params HubEntity[] entities)
    {
        messages[device.StateTopic] = JsonSerializer.SerializeToUtf8Bytes(state, JsonText.Compact);
        foreach (var entity in entities)
        {
            messages[entity.Topic(prefix, node)] = JsonSerializer.SerializeToUtf8Bytes(entity.Describe(node), JsonText.Compact);
        }
    }
}

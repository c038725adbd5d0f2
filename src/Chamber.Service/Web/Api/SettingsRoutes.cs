using System.Text.Json;
using Chamber.Service.Configuration;
using Chamber.Service.Labels;
using Chamber.Service.Web.Views;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>What stands in the settings file.</summary>
internal static class SettingsRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup(string.Empty).WithTags("Home");
        writes = writes.MapGroup(string.Empty).WithTags("Home");
        reads.MapGet("/settings", (PageHome page, Settings settings) => SettingsAnswer.Of(settings, page)).WithName("Settings")
            .WithSummary("The settings in force that concern the page; without secrets.");
        writes.MapPut("/settings/hub", (SettingsInForce settings, HubRequest hub) => Announce(settings, hub)).WithName("AnnounceToHub")
            .WithSummary("Announces spots, batches and alerts to a home-automation hub on the broker, by the MQTT discovery convention.");
        writes.MapDelete("/settings/hub", (SettingsInForce settings) =>
        {
            settings.Change(("hub", null));
            return TypedResults.NoContent();
        }).WithName("LeaveHub").WithSummary("Takes back from the hub whatever was announced.");
    }

    private static HubRequest Announce(SettingsInForce settings, HubRequest hub)
    {
        BadInputException.In("prefix", () =>
        {
            settings.Change(("hub", JsonSerializer.SerializeToNode(new HubSettings { Prefix = hub.Prefix }, SettingsText.Options)));
            return hub;
        });
        return hub;
    }
}

/// <summary>A home-automation hub.</summary>
/// <param name="Prefix">Under which topic it listens for what there is.</param>
internal sealed record HubRequest(string Prefix = "homeassistant");

/// <summary>Settings for the page and for programs.</summary>
/// <param name="Units">How the page shows temperatures.</param>
/// <param name="Zone">The home's time zone.</param>
/// <param name="OwnBroker">Whether the broker is the one inside Chamber.</param>
/// <param name="NewProbes">Whether probes that nobody has set up are taken in when they speak.</param>
/// <param name="ReadingsKept">How long every reading is kept.</param>
/// <param name="AlertsKept">How long closed alerts are kept.</param>
/// <param name="LabelAddress">Where the code on labels leads; null until it is given.</param>
internal sealed record SettingsAnswer(string Units, string Zone, bool OwnBroker, bool NewProbes, Duration ReadingsKept, Duration AlertsKept,
    string? LabelAddress)
{
    public static SettingsAnswer Of(Settings settings, PageHome page) => new(
        settings.Units == Core.Climate.TemperatureScale.Celsius ? "C" : "F",
        page.Zone.Id,
        settings.Broker.Own,
        settings.NewProbes,
        settings.Retention.Minutes,
        settings.Retention.Alerts,
        HomeLabels.Remembered(page.Read())?.AbsoluteUri);
}

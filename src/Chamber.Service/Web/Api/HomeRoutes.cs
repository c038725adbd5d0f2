using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Core.Chores;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Watching;
using Chamber.Service.Home.Writing;
using Chamber.Service.Labels;
using Chamber.Service.Web.Views;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>The home as a whole: today, reminders, settings.</summary>
internal static class HomeRoutes
{
    private const int DefaultDays = 14;

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup(string.Empty).WithTags("Home");
        writes = writes.MapGroup(string.Empty).WithTags("Home");
        reads.MapGet("/home", (PageHome page, DataDirectory data, HttpContext context) => new HomeAnswer(
            ProgramVersion.Text, data.Path, page.Now, page.Zone.Id, context.User.Identity?.Name,
                context.User.IsInRole(Access.AccessModule.Change)))
            .WithName("Home").WithSummary("Which version this is, its time and zone, and who is asking.");
        reads.MapGet("/today", (PageHome page, int? days) => Today(page, Days(days)))
            .WithName("Today").WithSummary("What needs a hand now, in order of what it costs to wait, and what is coming.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        reads.MapGet("/reminders", (PageHome page, int? days) => Reminders(page, Days(days)))
            .WithName("Reminders").WithSummary("What batches need next, by day; the next 14 days by default.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        reads.MapGet("/settings", (PageHome page, Settings settings) => SettingsAnswer.Of(settings, page)).WithName("Settings")
            .WithSummary("The settings in force that concern the page; without secrets.");
        writes.MapPut("/settings/hub", (SettingsInForce settings, HubRequest hub) => Announce(settings, hub)).WithName("AnnounceToHub")
            .WithSummary("Announces spots, batches and alerts to a home-automation hub on the broker, by the MQTT discovery convention.");
        writes.MapDelete("/settings/hub", (SettingsInForce settings) =>
        {
            settings.Change(("hub", null));
            return TypedResults.NoContent();
        }).WithName("LeaveHub").WithSummary("Takes back from the hub whatever was announced.");
        writes.MapPut("/settings/label-address", (PageHome page, AddressRequest address) => AddressAsync(page, address))
            .WithName("SetLabelAddress").WithSummary("The page's address as phones reach it; the code on labels leads there.");
    }

    private static int Days(int? days) => BadInputException.In("days", () => Core.Bounds.DaysAhead.Require(days ?? DefaultDays));

    private static List<Reminder> Reminders(PageHome page, int days)
    {
        var until = page.Today.PlusDays(days);
        var home = page.Read();
        return [.. new HomeReminders(home, home.Now).All().Where(reminder => reminder.From <= until)];
    }

    private static TodayAnswer Today(PageHome page, int days)
    {
        var home = page.Read();
        return new HomeToday(home, home.Now).Read(new WordStyle(false, page.Zone), days);
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

    private static async Task<AddressRequest> AddressAsync(PageHome page, AddressRequest address)
    {
        var url = BadInputException.In("url", () => HomeLabels.Address(address.Url));
        await page.WriteAsync((home, now) => HomeLabels.Remember(home.Writing(now).Choose, url));
        return new(url.AbsoluteUri);
    }
}

/// <summary>A home-automation hub.</summary>
/// <param name="Prefix">Under which topic it listens for what there is.</param>
internal sealed record HubRequest(string Prefix = "homeassistant");

/// <summary>This Chamber.</summary>
/// <param name="Version">Its version.</param>
/// <param name="Data">Where its data is.</param>
/// <param name="Now">Its time; that of a demo runs faster.</param>
/// <param name="Zone">The home's time zone.</param>
/// <param name="You">Who is asking.</param>
/// <param name="MayChange">Whether they may change things.</param>
internal sealed record HomeAnswer(string Version, string Data, Instant Now, string Zone, string? You, bool MayChange);

/// <summary>The page's address.</summary>
/// <param name="Url">As <c>http://pantry.local:8470/</c>.</param>
internal sealed record AddressRequest(string Url);

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

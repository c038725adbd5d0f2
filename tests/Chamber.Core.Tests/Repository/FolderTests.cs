namespace Chamber.Core.Tests.Repository;

public sealed class FolderTests
{
    // The rooms of the service from the ground up. A room refers to rooms of lines above its own, never to one of its own line or below.
    private static readonly string[] Order =
    [
        "Ground",
        "Configuration Home.Placing",
        "Home",
        "Home.Answers",
        "Backups Demo Export Import Mirror Notify Plots",
        "Boards Labels Reviews",
        "Health Telemetry",
        "Access",
        "Web.Views",
        "Web.Api Web.Parts.Access Web.Parts.Notices",
        "Web.Parts",
        "Web.Pages Web.Pages.Seeds Web.Pages.SetUp",
        "Web",
        "Workers",
        "Checks",
        "Commands.Terminal",
        "Commands.Places Commands.Seed Commands.Service Commands.Sowing Commands.Watch",
        "Commands.LookingBack",
        "Commands",
    ];

    // Folders that still go in circles; take them out when they no longer do.
    private static readonly Dictionary<string, string[]> KnownCircles = new()
    {
        ["Chamber.Core"] = ["Alerts", "Alerts.Notices", "Alerts.Scripts", "Batches", "Climate", "Crops", "Forecasts", "Forecasts.Learning", "Plans", "Seeds", "Spots", ""],
        ["Chamber.Storage"] = ["", "Files", "Readings", "Records"],
    };

    [Theory]
    [InlineData("Chamber.Core", "Chamber.Core.dll")]
    [InlineData("Chamber.Storage", "Chamber.Storage.dll")]
    [InlineData("Chamber.Mqtt", "Chamber.Mqtt.dll")]
    [InlineData("Chamber.Service", "chamber.dll")]
    public void Folders_refer_to_each_other_in_one_direction(string project, string file)
    {
        var known = KnownCircles.GetValueOrDefault(project, []).Select(folder => folder.Length == 0 ? project : $"{project}.{folder}").ToHashSet();
        var arrows = FolderArrows.Of(project, file).Where(arrow => !known.Contains(arrow.From) || !known.Contains(arrow.To)).ToList();

        Sources.ExpectNone(FolderArrows.Circle(arrows).Select(arrow => arrow.ToString()));
    }

    [Fact]
    public void A_room_of_the_service_refers_only_to_those_below_it()
    {
        const string root = "Chamber.Service";
        var height = Order.SelectMany((line, i) => line.Split(' ').Select(room => (Room: $"{root}.{room}", Height: i))).ToDictionary(entry => entry.Room, entry => entry.Height);
        height[root] = Order.Length;

        var wrong =
            from arrow in FolderArrows.Of(root, "chamber.dll")
            where !height.TryGetValue(arrow.From, out var upper) || !height.TryGetValue(arrow.To, out var lower) || lower >= upper
            select $"{arrow}: not a room below";

        Sources.ExpectNone(wrong);
    }
}

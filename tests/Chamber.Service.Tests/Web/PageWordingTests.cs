using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>Each meaning has one wording on the page, and the one that it replaced is nowhere: not on the page, the command line, in
/// notices or files.</summary>
public class PageWordingTests
{
    // In which file it is said, how, and how it was said before.
    private static readonly (string File, string Wording, string[] Before)[] Said =
    [
        ("Web/Pages/Today.razor", "Most urgent first", ["costs most to wait"]),
        ("Web/Pages/Today.razor", "<h2>Snoozed</h2>", ["Quieted", "Quiet until"]),
        ("Web/Parts/Cards/TodayTaps.razor", "Got it<", ["I have seen it"]),
        ("Web/Parts/Cards/TodayTaps.razor", "Snooze 2 h<", ["Quiet for 2"]),
        ("Web/Parts/Cards/TodayTaps.razor", "Watered", [">Wetted"]),
        ("Web/Parts/Cards/TodayCard.razor", "More actions<", ["More to write down"]),
        ("Web/Parts/Forms/LookButtons.razor", ">What did you see?<", ["You looked"]),
        ("Web/Parts/Forms/BatchActions.razor", ">What did you do?<", [">You did"]),
        ("Web/Pages/BatchPage.razor", "Right about 4 times in 5", ["four times in five", "hold 4 times"]),
        ("Ground/CountdownText.cs", "should be up by now", ["were due by"]),
        ("Web/Views/BatchView.cs", "$\"most {", []),
        ("Web/Parts/Forms/ReadForm.razor", ">Save</button>", ["Write it down", ">Write down", ">Keep it", ">Keep that"]),
        ("Web/Parts/SuitsLine.razor", "Not enough readings to rate it for @", ["can be named for"]),
        ("Web/Pages/Spots.razor", "Compare<", [">Side by side<"]),
        ("Web/Pages/PlacePage.razor", "<h1>Arrange batches</h1>", ["Where each goes"]),
        ("Web/Pages/Seeds/SeasonPlanPage.razor", "In half of all years the last frost is earlier", ["as likely as not"]),
        ("Web/Pages/Seeds/SeasonPlanPage.razor", "9 times in 10 you get at least this many plants", ["at least so many plants"]),
        ("Web/Pages/Seeds/LotPage.razor", "count on day @", ["call it on", "Call the test"]),
        ("Web/Pages/Seeds/LotPage.razor", ">Correct the count<", ["Counted again"]),
        ("Web/Pages/SetUp/SpotsPage.razor", ">Remove</button>", ["Take away"]),
        ("Web/Pages/SetUp/SafekeepingPage.razor", ">Restore</button>", ["Bring back"]),
        ("Web/Pages/SetUp/AboutPage.razor", "<h1>About and health</h1>", ["knows about itself"]),
        ("Web/Pages/SetUp/FirstSurvey.razor", "A sensor that reports on its own", ["speaks by MQTT"]),
        ("Web/Parts/Forms/ProbeListener.razor", "No temperature found in its message", ["says no temperature"]),
        ("Web/Pages/SetUp/CropsPage.razor", ">Source</label>", ["Where do you have that from"]),
        ("Web/Pages/SetUp/NoticesPage.razor", "No alerts are being sent.", ["is told of alerts", "Who is told"]),
        ("Web/Parts/Shell/Reconnection.razor", "Reconnecting…", ["called again"]),
        ("../Chamber.Core/Statistics/CountComparison.cs", "chance alone would do this", ["so unevenly"]),
        ("../Chamber.Core/Statistics/CountComparison.cs", "less than 1 time in 1000", ["less than once in"]),
        ("../Chamber.Core/Batches/LookCheck.cs", "more up ({look.Up}) than sown ({batch.Seeds})", ["sown cannot be"]),
    ];

    private static readonly string[] Sources = [".cs", ".razor", ".js"];

    [Fact]
    public void Each_meaning_has_its_wording()
    {
        Assert.Empty(Said.Where(one => !File.ReadAllText(SourceTree.Path("src", "Chamber.Service", one.File))
            .Contains(one.Wording, StringComparison.Ordinal)).Select(one => $"{one.File} does not say: {one.Wording}"));
    }

    [Fact]
    public void Nothing_is_said_as_it_was_before()
    {
        var files = Directory.EnumerateFiles(SourceTree.Path("src"), "*", SearchOption.AllDirectories)
            .Where(path => Sources.Contains(Path.GetExtension(path))).Select(path => (Path: path, Text: File.ReadAllText(path))).ToList();

        Assert.True(files.Count > 500, "The sources were not found.");
        Assert.Empty(from one in Said
                     from before in one.Before
                     from file in files
                     where file.Text.Contains(before, StringComparison.Ordinal)
                     select $"{file.Path} says \"{before}\": {one.Wording}");
    }
}

using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Scripts;

namespace Chamber.Core.Tests.Alerts;

public sealed class WatchScriptTests
{
    public static TheoryData<string> Scripts => [.. WatchScriptFiles.All];

    [Theory]
    [MemberData(nameof(Scripts))]
    public void Every_script_comes_out_as_it_says(string name)
    {
        var result = WatchScript.Parse(name, WatchScriptFiles.Read(name)).Run();

        Assert.True(result.Expectations > 0, $"{name} expects nothing.");
        Assert.True(result.Failures.Count == 0, string.Join(Environment.NewLine, result.Failures.Select(failure => failure.Message)));
    }

    // A limit that nobody has seen hold back, open, stay and close is not known to work.
    [Fact]
    public void Every_condition_has_a_script_that_shows_its_five_parts()
    {
        var shown = Shown().Select(shows => shows.Kind).ToHashSet();

        Assert.Equal([], ConditionRegistry.Kinds.Where(kind => !shown.Contains(kind)));
    }

    [Fact]
    public void Every_fault_of_a_probe_has_a_script_that_shows_its_five_parts()
    {
        var shown = Shown().Select(shows => shows.Fault).ToHashSet();

        // A wrong clock is a separate condition.
        Assert.Equal([], Enum.GetValues<ProbeFault>()
            .Where(fault => fault is not ProbeFault.None and not ProbeFault.Clock && !shown.Contains(fault)));
    }

    [Theory]
    [InlineData("", "story:1: the script shows hazard, but it expects nothing in a part \"near miss\"; write the heading \"part near "
        + "miss\" and below it what is expected")]
    [InlineData("07:00: expect hazard on mat",
        "story:1: the script shows hazard, but an expectation of the part \"near miss\" names it; in that part it is not open")]
    public void A_script_that_shows_a_condition_must_show_all_of_it(string nearMiss, string message)
    {
        var story = $"""
            shows hazard
            spot mat is a heat mat
            probe plate measures air on mat
            06:50: plate reads 20
            part near miss
            {nearMiss}
            part hold
            08:00: expect nothing
            part opens
            08:00: plate reads 55
            08:01: expect hazard on mat
            part stays
            08:02: expect hazard on mat
            part closes
            08:10 to 08:30 every 5 min: plate reads 20
            08:30: expect nothing
            """;

        Assert.Equal(message, WatchScript.Parse("story", story).Run().Failures[^1].Message);
    }

    [Fact]
    public void A_part_in_which_a_condition_is_open_must_expect_it_each_time()
    {
        const string story = """
            shows hazard
            spot mat is a heat mat
            probe plate measures air on mat
            part near miss
            08:00: plate reads 50
            08:00: expect nothing
            part hold
            08:00: expect nothing
            part opens
            08:01: plate reads 55
            08:01: expect hazard on mat
            part stays
            08:02: expect hazard on mat
            08:20 to 08:50 every 5 min: plate reads 20
            08:50: expect nothing
            part closes
            08:50: expect nothing
            """;

        var failure = Assert.Single(WatchScript.Parse("story", story).Run().Failures);

        Assert.Equal("story:1: the script shows hazard, but not every expectation of the part \"stays\" names it; in that part it is open",
            failure.Message);
    }

    [Theory]
    [InlineData("spot shelf is a shelf\n08:00: sail reads 20",
        "story:2: the probe \"sail\" is not known; declare it above: probe soil measures media on shelf, silent after 2 h")]
    [InlineData("spot shelf is a shlef", "story:1: \"shlef\" is no kind of spot; use one of shelf, cupboard, boiler cupboard, heat mat, "
        + "appliance top, electronics, aquarium side, radiator, sill")]
    [InlineData("probe soil measures media\n09:00: soil reads 20\n08:00: soil reads 21",
        "story:3: this is earlier than the line above; lines go forward in time, and a new day is written as: day 2 08:00")]
    [InlineData("probe soil measures media\n09:00: soil reads wet",
        "story:2: there is nothing read; write: soil reads 24, humidity 80, moisture 500, battery 40")]
    [InlineData("limit hazard danger 1e9", "story:1: 1,000,000,000 is outside 5 to 70 °C for a limit of alerts in °C: beyond it no alert "
        + "would be in time")]
    [InlineData("limit hazard margin 0", "story:1: 0 is outside 0.05 to 30 K for a limit of alerts in K")]
    [InlineData("limit too wet above 1e308", "story:1: 1E+308 is outside 0.1 to 150 % for a limit of alerts in %")]
    [InlineData("limit warm and dark hours 1e9", "story:1: 1,000,000,000 is outside 0.05 to 720 h for a limit of alerts in hours")]
    [InlineData("limit too hot hold 1e308 days", "story:1: 11,574,074.074 days is outside 1 s to 30 days for how long something holds")]
    [InlineData("limit too hot hold 0.01 s", "story:1: 0.01 s is outside 1 s to 30 days")]
    [InlineData("start 9999-03-02", "story:1: 9999 is outside 1970 to 2200 for a year")]
    [InlineData("probe soil measures media, silent after 1e300 h", "story:1: 11,574,074.074 days is outside 0 s to 3653 days")]
    [InlineData("probe soil measures media\n08:00: soil reads 1e9", "story:2: 1,000,000,000 is outside -40 to 125 °C")]
    [InlineData("probe soil measures media\n08:00: soil reads 20, humidity 101", "story:2: 101 is outside 0 to 100 % for a relative")]
    [InlineData("probe soil measures media\n08:00: soil reads 20, battery -1", "story:2: -1 is outside 0 to 100 %")]
    [InlineData("probe soil measures media\n08:00: soil reads 20, moisture 1e9", "story:2: 1,000,000,000 is outside -1,000,000 to")]
    [InlineData("probe soil measures media\n08:00: calibrate soil by 1e308", "story:2: 1E+308 is outside -20 to 20 K")]
    [InlineData("spot a is a shelf\nsow T1: 1e9 tomato in covered mix on a", "story:2: 1,000,000,000 is outside 1 to 10,000 for")]
    [InlineData("spot a is a shelf\nsow T1: 2.5 tomato in covered mix on a", "story:2: \"2.5\" is not a whole number; write: sow T1")]
    [InlineData("crop leek base 1e9 best 1 to 2 ceiling 3 cool 1 hot 2", "story:1: 1,000,000,000 is outside -90 to 150 °C")]
    [InlineData("limit too warm 3", "story:1: no limit has this name; the names are ")]
    [InlineData("fix the boiler", "story:1: \"fix\" begins no line; begin with start, zone, temperatures, limit, crop, spot, probe, sow, "
        + "shows, part, or a time such as 08:00")]
    [InlineData("part near miss", "story:1: parts belong to a script that shows a condition; write above: shows too hot")]
    [InlineData("shows too hot\npart nearly", "story:2: no part has this name; write: part near miss   (or: hold, opens, stays, closes)")]
    [InlineData("shows too hot\nshows too cold", "story:2: a script shows one condition; write another script for the other")]
    [InlineData("shows faulty probe by rust", "story:1: no fault has this name; the names are sentinel, spike, flat line, impossible rate, "
        + "other unit, impossible, saturated humidity, clock")]
    [InlineData("spot a is a shelf\nsow T1: 3 leek in covered mix on a",
        "story:2: the crop \"leek\" is not known; describe it above: crop tomato base")]
    [InlineData("spot a is a shelf\n08:00: expect too warm on a",
        "story:2: no alert has this name; the names are too cold, too hot, hazard")]
    public void A_line_that_is_wrong_is_named_with_its_fix(string text, string message)
    {
        var wrong = Assert.Throws<WatchScriptException>(() => WatchScript.Parse("story", text));

        Assert.StartsWith(message, wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_expectation_that_is_not_met_says_what_there_is_instead()
    {
        const string text = """
            spot mat is a heat mat
            probe soil measures media on mat
            08:00: soil reads 55
            08:00: expect nothing
            """;

        var failure = Assert.Single(WatchScript.Parse("story", text).Run().Failures);

        Assert.Equal("story:4: at 2026-03-02 08:00 expected nothing, but there is danger: hazard on mat since 2026-03-02 08:00",
            failure.Message);
    }

    [Fact]
    public void Limits_of_the_users_own_are_used()
    {
        const string text = """
            limit hazard danger 60
            spot mat is a heat mat
            probe plate measures air on mat
            08:00: plate reads 55
            08:00: expect nothing
            """;

        Assert.Empty(WatchScript.Parse("story", text).Run().Failures);
    }

    private static IEnumerable<ShownCondition> Shown() =>
        WatchScriptFiles.All.Select(name => WatchScript.Parse(name, WatchScriptFiles.Read(name)).Shows).OfType<ShownCondition>();
}

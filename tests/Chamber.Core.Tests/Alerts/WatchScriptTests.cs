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

    [Theory]
    [InlineData("spot shelf is a shelf\n08:00: sail reads 20", "story:2: the probe \"sail\" is not known; declare it above: probe soil measures media on shelf, silent after 2 h")]
    [InlineData("spot shelf is a shlef", "story:1: \"shlef\" is no kind of spot; use one of shelf, cupboard, boiler cupboard, heat mat, appliance top, electronics, aquarium side, radiator, sill")]
    [InlineData("probe soil measures media\n09:00: soil reads 20\n08:00: soil reads 21", "story:3: this is earlier than the line above; lines go forward in time, and a new day is written as: day 2 08:00")]
    [InlineData("probe soil measures media\n09:00: soil reads wet", "story:2: there is nothing read; write: soil reads 24, humidity 80, moisture 500, battery 40")]
    [InlineData("limit too warm 3", "story:1: no limit has this name; the names are ")]
    [InlineData("mend the boiler", "story:1: \"mend\" begins no line; begin with start, zone, temperatures, limit, crop, spot, probe, sow, or a time such as 08:00")]
    [InlineData("spot a is a shelf\nsow T1: 3 leek in covered mix on a", "story:2: the crop \"leek\" is not known; describe it above: crop tomato base")]
    [InlineData("spot a is a shelf\n08:00: expect too warm on a", "story:2: no alert has this name; the names are too cold, too hot, hazard")]
    public void A_line_that_is_wrong_is_named_with_its_mend(string text, string message)
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

        Assert.Equal("story:4: at 2026-03-02 08:00 expected nothing, but there is danger: hazard on mat since 2026-03-02 08:00", failure.Message);
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
}

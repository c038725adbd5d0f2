namespace Chamber.Service.Tests.Commands.Seed;

/// <summary>Counts are exact binomial tails, worked out in plain Python; prices and watts are invented.</summary>
public class PlanVerbTests
{
    [Theory]
    [InlineData("--watts 18", "Heat is not counted: say --heat-hours and --kwh-price too.")]
    [InlineData("--watts 18 --heat-hours 90", "Heat is not counted: say --kwh-price too.")]
    [InlineData("--mix-litres 5", "The mix is not counted: what does a litre of it cost (--mix-price)?")]
    public async Task A_part_of_a_cost_that_says_nothing_alone_asks_for_the_rest(string given, string told)
    {
        using var home = new HomeRig();
        var outcome = await home.Run([.. "plan --plants 9 --germination 0.7".Split(' '), .. given.Split(' ')]);
        Assert.Contains(told, outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plan_for_programs_names_how_many_to_sow_and_the_chance()
    {
        using var home = new HomeRig();
        var plan = await home.Json("plan", "--plants", "12", "--germination", "0.8", "--assurance", "0.95");

        // Exact binomial, computed apart from this program: 19 is the smallest number with P(X >= 12) >= 0.95.
        Assert.Equal(19, plan.GetProperty("sow").GetInt32());
        Assert.Equal(0.976721688, plan.GetProperty("chance").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task A_lot_is_taken_with_its_doubt_and_told_when_it_is_too_small()
    {
        using var home = new HomeRig();
        await home.Do("lot add tomato-24 --crop tomato --seeds 40 --year 2025 --price 4", "test record tomato-24 16/20");
        var plan = await home.Json("plan", "--plants", "12", "--lot", "tomato-24", "--assurance", "95%");
        Assert.True(plan.GetProperty("sow").GetInt32() > 19);
        Assert.Equal(0.1m * plan.GetProperty("sow").GetInt32(), plan.GetProperty("cost").GetProperty("seed").GetDecimal());
        var screen = await home.Run("plan", "--plants", "30", "--lot", "tomato-24");
        Assert.Contains("Only 20 seeds of tomato-24 are left.", screen.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Cells_losses_harvest_and_cost_are_in_the_plan()
    {
        using var home = new HomeRig();
        var plan = await home.Json(
            "plan", "--harvest", "20", "--yield", "2.5", "--germination", "80%", "--survival", "90%", "--per-cell", "2",
            "--seed-price", "0.10", "--watts", "18", "--heat-hours", "336", "--kwh-price", "0.30", "--bought-price", "2.50");
        Assert.Equal(8, plan.GetProperty("plants").GetInt32());
        Assert.Equal(2 * plan.GetProperty("cells").GetInt32(), plan.GetProperty("sow").GetInt32());
        Assert.Equal(6.048, plan.GetProperty("cost").GetProperty("kilowattHours").GetDouble(), 1e-9);
        Assert.True(plan.GetProperty("cost").GetProperty("saved").GetDecimal() > 0);
    }

    [Theory]
    [InlineData("chamber: Say how many plants, or how much harvest and what one plant gives. Write --plants 12, or --harvest "
        + "20 --yield 2.5; as in: chamber plan --plants 12 --germination 0.8",
        "plan", "--germination", "0.8")]
    [InlineData("chamber: Say how much comes up: a share, or a lot, and not both. Write --germination 0.8, or --lot with "
        + "the name of a lot.",
        "plan", "--plants", "3")]
    [InlineData("chamber: --germination \"1.2\" is not a share: write 0.8 or 80%.", "plan", "--plants", "3", "--germination", "1.2")]
    [InlineData("chamber: germination 0: nothing would come of it; write a share above 0.", "plan", "--plants", "3", "--germination", "0")]
    [InlineData("chamber: assurance must be above 0 and below 1, since nothing is certain. Write 0.95.", "plan", "--plants", "3",
        "--germination", "0.8", "--assurance", "1")]
    [InlineData("chamber: There is no lot yet. Add one: chamber lot add nowhere --crop tomato --seeds 50 --year 2026", "plan", "--plants",
        "3", "--lot", "nowhere")]
    public async Task A_plan_that_cannot_be_made_is_refused_with_the_fix(string line, params string[] arguments)
    {
        using var home = new HomeRig();
        Assert.Equal(line, await home.Refusal(arguments));
    }

    [Fact]
    public async Task Dates_count_back_from_the_frost_and_tell_when_the_light_is_full()
    {
        using var home = new HomeRig();
        Assert.StartsWith("chamber: --last-frost is needed", await home.Refusal("dates", "tomato"), StringComparison.Ordinal);
        var dates = await home.Json("dates", "tomato:12", "basil:16", "--last-frost", "2027-05-10", "--light-room", "20");
        var tomato = dates.GetProperty("crops")[0];
        Assert.Equal("2027-05-17", tomato.GetProperty("dates").GetProperty("plantOutFrom").GetString());
        Assert.Equal(10, tomato.GetProperty("ladder").GetArrayLength());
        Assert.Contains(dates.GetProperty("lightWeeks").EnumerateArray(), week => week.GetProperty("over").GetInt32() == 8);
    }
}

namespace Chamber.Service.Tests.Commands.Spots;

public class ReadVerbTests
{
    [Fact]
    public async Task Readings_before_a_spot_was_set_up_count_once_they_are_read_again()
    {
        using var home = new HomeRig();
        Assert.Contains("There is no spot freezer-top yet. Add it and read again:", (await home.Run("read", "freezer-top", "27C")).Out,
            StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromHours(8));
        await home.Do("spot add freezer-top --kind appliance-top", "read freezer-top 26C");

        var probe = Assert.Single((await home.Json("probes")).EnumerateArray());
        Assert.Equal(("freezer-top", "freezer-top"), (probe.GetProperty("probe").GetString(), probe.GetProperty("spot").GetString()));
        home.Clock.Advance(TimeSpan.FromMinutes(1));
        var hours = (await home.Json("warmth", "--crop", "tomato", "--spot", "freezer-top", "--since", "2027-02-28"))
            .GetProperty("measuredHours").GetDouble();
        Assert.Equal(8, hours, 1e-6);
    }

    [Fact]
    public async Task Readings_written_down_later_than_the_first_count_for_their_spot()
    {
        using var home = new HomeRig();
        await home.Do("spot add ledge", "read ledge 22C",
            "read ledge 21C --when 2027-02-28T16:00", "read ledge 24C --when 2027-03-01T00:00");

        var probe = Assert.Single((await home.Json("probes")).EnumerateArray());
        Assert.Equal("ledge", probe.GetProperty("spot").GetString());
        home.Clock.Advance(TimeSpan.FromMinutes(1));
        var hours = (await home.Json("warmth", "--crop", "tomato", "--spot", "ledge", "--since", "2027-02-27"))
            .GetProperty("measuredHours").GetDouble();
        Assert.Equal(16, hours, 1e-6);
    }

    [Fact]
    public async Task Another_value_for_the_same_moment_is_not_called_recorded()
    {
        using var home = new HomeRig();
        await home.Do("spot add ledge", "read ledge 24C --when 07:00", "read ledge 24C --when 07:00");
        var told = await home.Refusal("read", "ledge", "26C", "--when", "07:00");

        Assert.StartsWith("chamber: 24 °C was recorded on ledge for ", told, StringComparison.Ordinal);
        foreach (var line in told.Split("chamber ").Skip(1))
        {
            string[] words = [.. DocumentedLines.Words(line.Replace("and then:", "", StringComparison.Ordinal).Trim())];
            Assert.Equal(0, (await home.Run(words)).Code);
        }

        var probe = Assert.Single((await home.Json("probes")).EnumerateArray());
        Assert.Equal(26, probe.GetProperty("corrected").GetDouble(), 3);
    }

    [Fact]
    public async Task A_slip_in_a_name_is_asked_about_and_makes_no_thermometer()
    {
        using var home = new HomeRig();
        await home.Do("spot add bath-radiator --kind radiator", "lot add okra-1 --crop okra --seeds 9",
            "sow okra --seeds 4 --spot bath-radiator --name K1");
        Assert.Equal("chamber: There is no \"bath-radiatr\". Did you mean bath-radiator? For a thermometer of that name: chamber probe add "
            + "bath-radiatr --hand-read", await home.Refusal("read", "bath-radiatr", "23C"));
        Assert.Empty((await home.Json("probes")).EnumerateArray());
        Assert.Equal("chamber: There is no spot \"bath-raditor\". Did you mean bath-radiator?",
            await home.Refusal("sow", "okra", "--seeds", "9", "--spot", "bath-raditor"));
        Assert.Equal("chamber: There is no lot \"okar-1\". Did you mean okra-1?", await home.Refusal("lot", "show", "okar-1"));
        Assert.StartsWith("chamber: There is no batch \"K2\". Did you mean K1?", await home.Refusal("look", "K2", "1"),
            StringComparison.Ordinal);
        Assert.Equal("chamber: \"orka\" is not in the crop catalog. Did you mean okra?", await home.Refusal("crops", "orka"));
        home.Clock.Advance(TimeSpan.FromHours(1));
        await home.Do("look k1 0");
    }

    [Fact]
    public async Task A_thermometer_that_hangs_elsewhere_stays_there_despite_a_spots_name()
    {
        using var home = new HomeRig();
        await home.Do("spot add shelf", "spot add mat", "probe add mat --hand-read --spot shelf", "read mat 21C");
        Assert.Equal("shelf", (await home.Json("probes"))[0].GetProperty("spot").GetString());
    }

    [Fact]
    public async Task A_history_older_than_its_spot_is_told_with_the_line_that_lets_it_count()
    {
        using var home = new HomeRig();
        var file = home.Write("log.csv", "at,temperature\n2027-02-26T06:00:00Z,21\n2027-02-26T07:00:00Z,22\n");
        const string fix = "chamber probe move p1 shelf --when \"2027-02-26 06:00\"";
        Assert.Contains(fix.Replace("shelf", "SPOT", StringComparison.Ordinal), OneLine(await home.Run("import", file, "--probe", "p1")),
            StringComparison.Ordinal);
        await home.Do("spot add shelf");
        Assert.Contains(fix, OneLine(await home.Run("probe", "add", "p1", "--measures", "media", "--spot", "shelf")),
            StringComparison.Ordinal);
        Assert.DoesNotContain("counts for no spot", (await home.Run("probe", "move", "p1", "shelf", "--when", "2027-02-26 06:00")).Out,
            StringComparison.Ordinal);
        Assert.Equal(1, (await home.Json("warmth", "--crop", "tomato", "--spot", "shelf", "--since", "2027-02-25"))
            .GetProperty("measuredHours").GetDouble(), 1e-6);
    }

    private static string OneLine(Outcome outcome) =>
        string.Join(' ', outcome.Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}

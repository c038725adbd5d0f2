namespace Chamber.Service.Tests.Commands;

public class ReadVerbTests
{
    [Fact]
    public async Task What_was_read_before_its_spot_was_set_up_counts_for_that_spot_once_it_is_read_again()
    {
        using var home = new HomeRig();
        Assert.Contains("There is no spot fridge-top yet. Add it and read again:", (await home.Run("read", "fridge-top", "27C")).Out, StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromHours(8));
        await home.Do("spot add fridge-top --kind appliance-top", "read fridge-top 26C");

        var probe = Assert.Single((await home.Json("probes")).EnumerateArray());
        Assert.Equal(("fridge-top", "fridge-top"), (probe.GetProperty("probe").GetString(), probe.GetProperty("spot").GetString()));
        home.Clock.Advance(TimeSpan.FromMinutes(1));
        var hours = (await home.Json("warmth", "--crop", "tomato", "--spot", "fridge-top", "--since", "2027-02-28")).GetProperty("measuredHours").GetDouble();
        Assert.Equal(8, hours, 1e-6);
    }

    [Fact]
    public async Task A_thermometer_that_hangs_elsewhere_stays_there_though_a_spot_has_its_name()
    {
        using var home = new HomeRig();
        await home.Do("spot add shelf", "spot add mat", "probe add mat --hand-read --spot shelf", "read mat 21C");
        Assert.Equal("shelf", (await home.Json("probes"))[0].GetProperty("spot").GetString());
    }
}

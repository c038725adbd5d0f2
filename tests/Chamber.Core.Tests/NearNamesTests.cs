namespace Chamber.Core.Tests;

/// <summary>Names are invented; distances are worked out by hand.</summary>
public sealed class NearNamesTests
{
    [Theory]
    [InlineData("shelf", "shelf", 0)]
    [InlineData("shlef", "shelf", 1)]
    [InlineData("shef", "shelf", 1)]
    [InlineData("bath-radiatr", "bath-radiator", 1)]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("", "mat", 3)]
    public void A_distance_counts_slips(string left, string right, int slips)
    {
        Assert.Equal(slips, NearNames.Distance(left, right));
        Assert.Equal(slips, NearNames.Distance(right, left));
    }

    [Fact]
    public void The_nearest_come_first_and_what_is_far_off_not_at_all()
    {
        Assert.Equal(["shelf", "shell"], NearNames.Of("Shelff", ["sill", "shell", "shelf", "boiler-top"]));
        Assert.Empty(NearNames.Of("mat", ["sill"]));
        Assert.Equal(" Did you mean mat?", NearNames.Question("mta", ["mat", "sill"]));
        Assert.Equal("", NearNames.Question("attic", ["mat", "sill"]));
    }
}

using Chamber.Service.Web.Views;

namespace Chamber.Service.Tests.Web.Views;

public sealed class TypedTemperatureTests
{
    [Theory]
    [InlineData("22.5", "22.5C")]
    [InlineData("22,5 C", "22.5C")]
    [InlineData(" 22,5 °c ", "22.5C")]
    [InlineData("71.6F", "71.6F")]
    [InlineData("72 ℉", "72F")]
    [InlineData("22°", "22C")]
    [InlineData("-3", "-3C")]
    public void A_unit_that_is_typed_counts_and_a_comma_is_a_point(string typed, string read) =>
        Assert.Equal(read, TypedTemperature.Of(typed).With("C"));
}

using NodaTime;

namespace Chamber.Core.Tests;

public sealed class BoundTests
{
    private static readonly Bound Litres = new("litres of mix", 0, 10_000, "L", "write what you use");

    [Theory]
    [InlineData(0)]
    [InlineData(10_000)]
    [InlineData(0.25)]
    public void Both_ends_belong_to_it(double value) => Assert.Null(Litres.WhyNot(value));

    [Theory]
    [InlineData(-0.001, "-0.001 is outside 0 to 10,000 L for litres of mix: write what you use.")]
    [InlineData(10_000.5, "10,000.5 is outside 0 to 10,000 L for litres of mix: write what you use.")]
    [InlineData(double.NaN, "NaN is outside 0 to 10,000 L for litres of mix: write what you use.")]
    [InlineData(double.PositiveInfinity, "Infinity is outside 0 to 10,000 L for litres of mix: write what you use.")]
    [InlineData(1e300, "1E+300 is outside 0 to 10,000 L for litres of mix: write what you use.")]
    public void What_lies_beyond_is_refused_in_one_sentence(double value, string sentence)
    {
        Assert.Equal(sentence, Litres.WhyNot(value));
        Assert.Equal(sentence, Assert.Throws<FormatException>(() => Litres.Require(value)).Message);
    }

    [Fact]
    public void A_decimal_beyond_every_double_digit_is_refused_too() =>
        Assert.StartsWith("7.923E+28 is outside", Bounds.Price.WhyNot(decimal.MaxValue), StringComparison.Ordinal);

    [Fact]
    public void A_text_is_shown_only_by_its_beginning()
    {
        var why = Bounds.Note.WhyNot(new string('x', 1_000_000));
        Assert.Equal("\"xxxxxxxxxxxxxxxxxxxx...\" has 1,000,000 characters: a note has at most 1000; shorten it.", why);
        Assert.Null(Bounds.Note.WhyNot(new string('x', 1_000)));
        Assert.Null(Bounds.Note.WhyNot(null));
    }

    [Theory]
    [InlineData(0.5, "0.5 s")]
    [InlineData(40 * 86_400, "40 days")]
    public void A_length_of_time_is_shown_in_its_own_unit(double seconds, string shown) => Assert.StartsWith(
        shown, Bounds.MaxGap.WhyNot(Duration.FromSeconds(seconds)), StringComparison.Ordinal);

    [Fact]
    public void Every_bound_has_a_lower_end_below_its_upper_end_and_says_what_to_do()
    {
        Assert.True(Bounds.All.Count > 40);
        Assert.All(Bounds.All, named => Assert.True(named.Bound switch
        {
            Bound bound => bound.Low < bound.High && bound.Fix.Length > 0 && bound.What.Length > 0,
            TimeBound bound => bound.Low < bound.High && bound.Fix.Length > 0 && bound.What.Length > 0,
            TextBound bound => bound.LengthMax > 0 && bound.What.Length > 0,
            _ => false,
        }, named.Name));
    }
}

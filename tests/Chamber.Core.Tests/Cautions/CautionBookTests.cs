using Chamber.Core.Cautions;
using Chamber.Core.Crops;

namespace Chamber.Core.Tests.Cautions;

public sealed class CautionBookTests
{
    public static TheoryData<string> Names => [.. Everything.Select(caution => caution.Name)];

    internal static IReadOnlyList<Caution> Everything =>
        [.. CautionBook.All.Concat(CropCatalog.Shipped.Crops.SelectMany(PoisonCaution.Of)).DistinctBy(caution => caution.Name)];

    [Fact]
    public void No_two_cautions_share_a_name_or_a_line()
    {
        Assert.Equal(CautionBook.All.Count, CautionBook.All.Select(caution => caution.Name).Distinct().Count());
        Assert.Equal(Everything.Count, Everything.Select(caution => caution.Line).Distinct().Count());
        Assert.All(CautionBook.All, caution => Assert.Same(caution, CautionBook.Find(caution.Name)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_has_a_short_line_the_whole_when_it_is_shown_and_a_source(string name)
    {
        var caution = Everything.Single(one => one.Name == name);
        Assert.Matches("^[a-z]+(-[a-z]+)*$", name);
        Assert.InRange(caution.Line.Length, 20, Caution.LineMax);
        Assert.InRange(caution.Full.Length, caution.Line.Length, Caution.FullMax);
        Assert.EndsWith(".", caution.Line, StringComparison.Ordinal);
        Assert.EndsWith(".", caution.Full, StringComparison.Ordinal);
        Assert.DoesNotContain(CautionText.Deference, caution.Full, StringComparison.Ordinal);
        Assert.NotEqual("", caution.Source);
        Assert.NotEqual("", caution.Where);
    }

    // A towel needs air: the two lists that there once were did not agree on it.
    [Fact]
    public void No_caution_seals_seed_that_is_to_come_up_into_a_bag() =>
        Assert.DoesNotContain(Everything, caution => caution.Full.Contains("sealed bag", StringComparison.Ordinal));

    [Fact]
    public void What_is_shown_in_full_defers_and_what_is_a_line_names_the_rest()
    {
        var (whole, line) = (ShownCaution.Whole(CautionBook.HeatMat), ShownCaution.Line(CautionBook.TreatedSeed));
        Assert.Equal($"Caution: {CautionBook.HeatMat.Full} {CautionBook.TreatedSeed.Line} {CautionText.Deference}",
            CautionText.Of([whole, line]));
        Assert.Equal($"Caution: {CautionBook.HeatMat.Line} {CautionBook.TreatedSeed.Line}", CautionText.Lines([whole, line]));
        Assert.Equal($"Caution: {CautionBook.TreatedSeed.Line}", CautionText.Of([line]));
        Assert.Equal("More: chamber cautions heat-mat treated-seed", CautionText.More([whole, line]));
        Assert.Equal(("", "", ""), (CautionText.Of([]), CautionText.Lines([]), CautionText.More([])));
    }
}

using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>
/// The factor by which a root is seen before the shoot, against published times of roots on paper and the catalog's times of shoots,
/// which come from another source: the leaflet of 1954.
/// </summary>
public class RootBeforeShootTests(ITestOutputHelper output)
{
    private const double NormalAt90 = 1.2816;

    /// <summary>Published: crop, °C, days until half the roots are seen.</summary>
    public static TheoryData<string, double, double> Roots => new()
    {
        // J.L. Brewster, Onions and Other Vegetable Alliums (CABI), Fig. 4.7, data of Harrington (1962): 80 °C·d over 2.5 °C, on moist
        // paper.
        { "onion", 22.5, 80 / (22.5 - 2.5) },

        // The same, Eqns 4.8-4.9 after R.H. Ellis and P.D. Butcher, J. Exp. Bot. (1988), 'White Lisbon' over 3.5 °C. 81.9 °C·d is inferred,
        // not printed: the copy that was read has lost digits and shows the constant as 9134, taken to be 1.9134, and ten to that power is
        // 81.9.
        { "onion", 22.5, 81.9 / (22.5 - 3.5) },

        // "Onion (Allium cepa L.) seed germination affected by temperature and water potential: hydrothermal time model", abstract:
        // 'Sepidan' 1602.83 °C·h over -2.5 °C, 'Zargan' 1521.44 °C·h over 0 °C, without want of water. Only the abstract was read, in an
        // index that names neither authors nor year nor journal; they could not be found.
        { "onion", 20, 1602.83 / 24 / (20 + 2.5) },
        { "onion", 20, 1521.44 / 24 / 20 },

        // Pepper 'Early Calwonder': the first roots after 3.0, 4.9 and 11.2 days at 25, 20 and 15 °C, from a text that quotes a study it
        // does not name; taken to half by the catalog's own spread of one in ten to half.
        { "pepper-sweet", 25, 3.0 * Math.Exp(NormalAt90 * 0.25) },
        { "pepper-sweet", 20, 4.9 * Math.Exp(NormalAt90 * 0.25) },
        { "pepper-sweet", 15, 11.2 * Math.Exp(NormalAt90 * 0.25) },

        // Z. Heidari, B. Kamkar & J.M. Sinaki, "Influence of temperature on seed germination response of fennel", Adv. Plants Agric. Res. 1
        // (2014) 207-213: hours to half the roots on the plateau from 13 to 25 °C, of the varieties Hamedan, Malayer and Isfahan.
        { "florence-fennel", 18, 165.5 / 24 },
        { "florence-fennel", 18, 168.4 / 24 },
        { "florence-fennel", 18, 158.3 / 24 },
    };

    [Theory]
    [MemberData(nameof(Roots))]
    public void A_published_root_lies_within_the_eighty_percent_of_the_prior(string crop, double celsius, double days) =>
        Assert.InRange(Math.Abs(LogRatio(crop, celsius, days) - Math.Log(HomePriors.RootBeforeShoot)), 0,
            NormalAt90 * HomePriors.RootBeforeShootDeviation);

    [Fact]
    public void Together_they_lie_near_the_middle_of_the_prior()
    {
        var mean = Roots.Select(row => LogRatio(row.Data.Item1, row.Data.Item2, row.Data.Item3)).Average();
        Assert.InRange(Math.Exp(mean), HomePriors.RootBeforeShoot / 1.15, HomePriors.RootBeforeShoot * 1.15);
    }

    // Each crop by the mean of the others: what a crop without published roots can be told.
    [Fact]
    public void A_crop_left_out_is_foretold_by_the_others_within_the_prior()
    {
        var crops = Roots.GroupBy(row => row.Data.Item1, row => LogRatio(row.Data.Item1, row.Data.Item2, row.Data.Item3))
            .ToDictionary(same => same.Key, same => same.Average());
        foreach (var (crop, own) in crops)
        {
            var others = crops.Where(other => other.Key != crop).Average(other => other.Value);
            output.WriteLine($"{crop,-16} published {Math.Exp(own):0.00}, by the others {Math.Exp(others):0.00}, "
                + $"used {RootAndShoot.RootShare(Some.Crop(crop)):0.00}");
            Assert.InRange(Math.Abs(own - others), 0, NormalAt90 * HomePriors.RootBeforeShootDeviation);
            Assert.InRange(RootAndShoot.RootShare(Some.Crop(crop)), Math.Min(Math.Exp(own), RootAndShoot.UsualRootShare),
                Math.Max(Math.Exp(own), RootAndShoot.UsualRootShare));
        }

        Assert.Equal(RootAndShoot.UsualRootShare, RootAndShoot.RootShare(Some.Crop("tomato")));
    }

    private static double LogRatio(string crop, double celsius, double days)
    {
        var profile = CropCatalog.Shipped.Require(crop).Profile;
        return Math.Log(days * profile.Cardinals.EffectiveWarmth(Temperature.FromCelsius(celsius)) / profile.HalfWarmHours.CelsiusDays);
    }
}

using Chamber.Core.Crops;

namespace Chamber.Core.Tests.Crops;

/// <summary>
/// What is said to somebody about to sow; the notes are the shipped catalog's. From memory and common practice, as the catalog says; kept
/// here to notice change.
/// </summary>
public class SowingAdviceTests
{
    [Theory]
    [InlineData("okra", SowingMethod.CoveredMix, "Before sowing: soak 12-24 h or nick. Count from wetting, and leave no seed in water any "
        + "longer: it rots.|It does not like to be moved: give each plant its own pot from the start.")]
    [InlineData("bean-runner", SowingMethod.CoveredMix, "Before sowing: no long soak.")]
    [InlineData("tomato", SowingMethod.DampTowel, "")]
    [InlineData("celery", SowingMethod.DampTowel, "Before sowing: soak overnight helps. Count from wetting, and leave no seed in water any "
        + "longer: it rots.|A towel suits it badly (dust-fine, needs light, slow): a box of mix is safer.")]
    [InlineData("carrot", SowingMethod.CoveredMix, "It is better sown where it will grow.")]
    public void It_is_of_the_crop_and_the_method(string crop, SowingMethod method, string said) =>
        Assert.Equal(said, string.Join('|', SowingAdvice.For(CropCatalog.Shipped.Require(crop), method, isTreated: false)));
}

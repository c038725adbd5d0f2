using Chamber.Core.Facts;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Facts.Whole;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Facts;

/// <summary>Names of any letters. The names are invented.</summary>
public class ShownAsTests
{
    private static readonly Instant At = Instant.FromUtc(2027, 2, 1, 8, 0);
    private static readonly FactSubject Shelf = FactSubject.Of(new SpotId("shelf"));

    private readonly HomeState home = HomeState.Empty.Apply(new SpotSetUp(new("shelf")).At(At));

    [Fact]
    public void It_is_shown_by_it_until_that_is_taken_back()
    {
        var named = home.Apply(new ShownAs(Shelf, "Küche, oben 暖").At(At));

        Assert.Equal("Küche, oben 暖", ShownNames.Of(named.Settings).Of(new SpotId("shelf")));
        Assert.Equal("shelf", ShownNames.Of(named.Apply(new ShownAs(Shelf).At(At)).Settings).Of(new SpotId("shelf")));
    }

    [Fact]
    public void It_goes_along_when_the_thing_is_renamed()
    {
        var named = home.Apply(new ShownAs(Shelf, "Küche").At(At)).Apply(new SpotRenamed(new("shelf"), new("warm-shelf")).At(At));

        Assert.Equal("Küche", ShownNames.Of(named.Settings).Of(new SpotId("warm-shelf")));
        Assert.Single(ShownNames.Of(named.Settings).All);
    }

    [Theory]
    [InlineData("two\nlines", "one line")]
    [InlineData("   ", "not blank")]
    [InlineData("1234567890123456789012345678901234567890123456789012345678901", "60")]
    public void What_could_not_be_shown_is_refused(string name, string why) =>
        Assert.Contains(why, Assert.ThrowsAny<RefusedException>(() => home.Apply(new ShownAs(Shelf, name).At(At))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Only_what_is_there_has_one()
    {
        Assert.ThrowsAny<RefusedException>(() => home.Apply(new ShownAs(FactSubject.Of(new SpotId("attic")), "Boden").At(At)));
        Assert.ThrowsAny<RefusedException>(() => home.Apply(new ShownAs(FactSubject.Home, "Heim").At(At)));
    }
}

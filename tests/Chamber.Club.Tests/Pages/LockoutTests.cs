using Chamber.Club.People;

namespace Chamber.Club.Tests.Pages;

/// <summary>Guessing is slowed down as at home.</summary>
public sealed class LockoutTests(ClubSite site) : IClassFixture<ClubSite>
{
    [Fact]
    public async Task After_five_wrong_passwords_none_is_looked_at()
    {
        using var owner = await site.Person("Emil", site.Mill, Role.Member);
        using var guesser = new Visitor(site.Address);
        for (var i = 0; i < 5; i++)
        {
            Assert.Contains("is not right", (await guesser.SignIn("Emil", $"guess {i}")).Text, StringComparison.Ordinal);
        }

        Assert.Contains("Too many wrong tries", (await guesser.SignIn("Emil")).Text, StringComparison.Ordinal);

        // In a browser in which Emil has been before it is counted apart.
        await owner.Send("/", "/sign-out", ("leave", "yes"));
        Assert.Equal("/", (await owner.SignIn("Emil")).To);
    }
}

namespace Chamber.Service.Tests.Ground;

public sealed class OwnUserTests
{
    [Fact]
    public void A_number_that_no_user_has_is_a_name_too() => Assert.Matches("^user [0-9]+$",
        OwnUser.NameOr(() => throw new IOException("No such file or directory")));

    [Fact]
    public void Whoever_has_a_name_goes_by_it() => Assert.Equal(Environment.UserName, OwnUser.Name);
}

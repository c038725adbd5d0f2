using Chamber.Mqtt.Broker;
using Chamber.Testing;

namespace Chamber.Service.Tests.Mqtt;

public sealed class UserFileTests : IDisposable
{
    private readonly TempFolder folder = new();

    private string Path => folder.File("users");

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Only_the_right_password_of_a_known_user_is_let_in()
    {
        var users = new UserFile(Path);
        Assert.False(users.Verify("balcony", "a long password"));

        users.Set("balcony", "a long password");
        users.Set("sill", "another password");

        Assert.True(users.Verify("balcony", "a long password"));
        Assert.False(users.Verify("balcony", "a long password" + '\0'));
        Assert.False(users.Verify("balcony", "another password"));
        Assert.False(users.Verify("balcony", null));
        Assert.False(users.Verify(null, "a long password"));
        Assert.True(users.Verify("sill", "another password"));
    }

    [Fact]
    public void A_new_password_takes_the_place_of_the_old_and_a_removed_user_is_gone()
    {
        var users = new UserFile(Path);
        users.Set("balcony", "a long password");
        users.Set("balcony", "another password");

        Assert.False(users.Verify("balcony", "a long password"));
        Assert.True(users.Verify("balcony", "another password"));
        Assert.True(users.Remove("balcony"));
        Assert.False(users.Remove("balcony"));
        Assert.False(users.Verify("balcony", "another password"));
    }

    [Fact]
    public void The_file_holds_no_password_and_only_its_owner_can_read_it()
    {
        new UserFile(Path).Set("balcony", "a long password");

        var line = Assert.Single(File.ReadAllLines(Path));
        Assert.StartsWith("balcony:210000:", line, StringComparison.Ordinal);
        Assert.DoesNotContain("password", line, StringComparison.Ordinal);
        Assert.True(OperatingSystem.IsWindows() || File.GetUnixFileMode(Path) == (UnixFileMode.UserRead | UnixFileMode.UserWrite));
    }

    [Theory]
    [InlineData("balcony", "short", "A password has at least 8 characters.")]
    [InlineData("two words", "a long password", "cannot name a user")]
    [InlineData("a:b", "a long password", "cannot name a user")]
    public void A_name_or_password_that_cannot_be_used_is_told_as_that(string user, string password, string message)
    {
        var error = Assert.Throws<FormatException>(() => new UserFile(Path).Set(user, password));

        Assert.Contains(message, error.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(Path));
    }

    [Theory]
    [InlineData("balcony")]
    [InlineData("balcony:x:AAAA:AAAA")]
    [InlineData("balcony:0:AAAA:AAAA")]
    [InlineData("balcony:1:not base64:AAAA")]
    public void A_line_spoilt_by_hand_lets_nobody_in(string line)
    {
        folder.Write("users", line + "\n");

        Assert.False(new UserFile(Path).Verify("balcony", ""));
    }
}

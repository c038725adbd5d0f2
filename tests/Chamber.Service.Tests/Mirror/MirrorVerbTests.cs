using System.Net;
using Chamber.Service.Tests.Commands;

namespace Chamber.Service.Tests.Mirror;

/// <summary>The mirror from the command line, without a running service. Readings are invented; codes are those of HTTP (RFC
/// 9110).</summary>
public sealed class MirrorVerbTests
{
    [Fact]
    public async Task It_says_how_far_behind_the_copy_is_and_fills_it()
    {
        await using var peer = await WritePeer.Start(_ => new(HttpStatusCode.NoContent));
        using var home = new HomeRig();
        await File.WriteAllTextAsync(home.File("chamber.json"), $$"""{ "mirror": { "url": "{{peer.Url}}" } }""",
            TestContext.Current.CancellationToken);
        await home.Do("spot add shelf", "read shelf 21C");
        home.Clock.Advance(TimeSpan.FromMinutes(30));
        await home.Do("read shelf 22C");

        var before = await home.Json("mirror");
        Assert.Equal((2, 0.5, 0), (before.GetProperty("unsent").GetInt64(), before.GetProperty("behind").GetDouble(),
            before.GetProperty("sentLines").GetInt64()));
        Assert.Contains("is 30 min behind: 2 readings wait in the journal.", (await home.Run("mirror")).Out, StringComparison.Ordinal);

        var after = await home.Json("mirror", "fill");
        Assert.Equal((0, 2), (after.GetProperty("unsent").GetInt64(), after.GetProperty("sentLines").GetInt64()));
        Assert.Equal(2, peer.Taken.Count);
        Assert.Contains("is up to date.", (await home.Run("mirror", "fill")).Out, StringComparison.Ordinal);
        Assert.Equal(2, peer.Taken.Count);
    }

    [Fact]
    public async Task A_server_that_refuses_is_told_by_fill_and_by_check_in_one_line()
    {
        await using var peer = await WritePeer.Start(_ => new(HttpStatusCode.Unauthorized));
        using var home = new HomeRig();
        await File.WriteAllTextAsync(home.File("chamber.json"), $$"""{ "mirror": { "url": "{{peer.Url}}", "token": "wrong" } }""",
            TestContext.Current.CancellationToken);
        await home.Do("spot add shelf", "read shelf 21C");

        var fill = await home.Run("mirror", "fill");
        Assert.Equal(1, fill.Code);
        Assert.Contains("does not let us in (401): check mirror.token", Assert.Single(fill.Error.TrimEnd('\n').Split('\n')),
            StringComparison.Ordinal);
        var check = await home.Run("check", "--json");
        Assert.Equal(1, check.Code);
        Assert.Contains("check mirror.token", check.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_mirror_it_says_how_to_have_one()
    {
        using var home = new HomeRig();
        Assert.Contains("There is no mirror. Name the server in", await home.Refusal("mirror"), StringComparison.Ordinal);
    }
}

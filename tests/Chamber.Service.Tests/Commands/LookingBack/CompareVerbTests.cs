using System.Globalization;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands.LookingBack;

/// <summary>Asked of SciPy for how many; the bounds for how fast are wide and the program's own (SurvivalTests asks R).</summary>
public class CompareVerbTests
{
    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task A_comparison_for_programs_agrees_with_SciPy()
    {
        using var home = new HomeRig();
        var answer = await home.Json("compare", "--counts", "11/14", "7/15");
        var theirs = (await Oracle.SciPy("from scipy.stats import fisher_exact\nprint(repr(float(fisher_exact([[11,3],[7,8]])[1])))"))
            .Trim();
        Assert.Equal(double.Parse(theirs, CultureInfo.InvariantCulture), answer.GetProperty("pValue").GetDouble(), 1e-8);
        var difference = answer.GetProperty("difference");
        Assert.Equal(11 / 14.0 - 7 / 15.0, difference.GetProperty("mid").GetDouble(), 1e-8);
        Assert.True(difference.GetProperty("low").GetDouble() < 0 && difference.GetProperty("high").GetDouble() > 0.5);
        Assert.Contains("no proof", answer.GetProperty("words").GetString(), StringComparison.Ordinal);
        Assert.False(answer.GetProperty("isProof").GetBoolean());
    }

    [Fact]
    public async Task Roots_and_shoots_are_not_compared_without_a_warning()
    {
        using var home = new HomeRig();
        await home.Do(
            "spot add shelf --kind shelf --light dim --room 4",
            "sow tomato --seeds 12 --spot shelf --name A1",
            "sow tomato --seeds 12 --spot shelf --name A2 --method damp-towel");
        Assert.Contains("Nobody has looked at A1 yet", await home.Refusal("compare", "--batches", "A1", "A2"), StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromDays(6));
        await home.Do("look A1 7", "look A2 10");
        var note = (await home.Json("compare", "--batches", "A1", "A2")).GetProperty("batches").GetProperty("note").GetString();
        Assert.Contains("a root seen is not a shoot seen", note, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Batches_are_compared_by_how_fast_as_well()
    {
        using var home = new HomeRig();
        await home.Do(
            "spot add shelf --kind shelf --light dim --room 4",
            "sow tomato --seeds 20 --spot shelf --name A1",
            "sow tomato --seeds 20 --spot shelf --name A2");
        foreach (var (first, second) in new[] { (0, 0), (0, 0), (5, 0), (14, 3), (19, 9), (20, 14), (20, 18) })
        {
            home.Clock.Advance(TimeSpan.FromDays(1));
            await home.Do($"look A1 {first}", $"look A2 {second}");
        }

        var answer = await home.Json("compare", "--batches", "A1", "A2");

        // 20 of 20 against 18 of 20 proves nothing; a day and a half between them does.
        Assert.False(answer.GetProperty("isProof").GetBoolean());
        var speed = answer.GetProperty("speed");
        Assert.True(speed.GetProperty("isProof").GetBoolean());
        Assert.InRange(speed.GetProperty("pValue").GetDouble(), 0, 0.01);
        Assert.InRange(speed.GetProperty("difference").GetProperty("mid").GetDouble(), 0.8, 2);
        Assert.Contains("in how many no proof", (await home.Run("compare", "--batches", "A1", "A2")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_batch_that_is_not_due_yet_proves_nothing_against_itself()
    {
        using var home = new HomeRig();
        await home.Do(
            "spot add shelf --kind shelf --light dim --room 4",
            "sow tomato --seeds 10 --spot shelf --name A1");
        home.Clock.Advance(TimeSpan.FromDays(9));
        await home.Do("sow tomato --seeds 12 --spot shelf --name A2");
        home.Clock.Advance(TimeSpan.FromDays(1));
        await home.Do("look A1 7", "look A2 0");
        var early = await home.Json("compare", "--batches", "A1", "A2");
        Assert.False(early.GetProperty("isProof").GetBoolean());
        Assert.Contains("more of A2 may come up", early.GetProperty("words").GetString(), StringComparison.Ordinal);
        Assert.StartsWith("Too early to say.", (await home.Run("compare", "--batches", "A1", "A2")).Out, StringComparison.Ordinal);

        // The one that is behind counts: once it has ended, the other may go on.
        await home.Do("end A2");
        Assert.True((await home.Json("compare", "--batches", "A1", "A2")).GetProperty("isProof").GetBoolean());
    }

    [Theory]
    [InlineData("chamber: \"15/14\" is not a count: write how many are up and of how many seeds, as 11/14, with no more up than seeds.",
        "compare", "--counts", "15/14", "7/15")]
    [InlineData("chamber: Name two counts or two batches: chamber compare --counts 11/14 7/15", "compare", "--counts", "11/14")]
    public async Task Counts_that_cannot_be_are_refused(string line, params string[] arguments)
    {
        using var home = new HomeRig();
        Assert.Equal(line, await home.Refusal(arguments));
    }
}

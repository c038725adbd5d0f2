using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Tests.Batches;

/// <summary>What may be counted; the batches are invented.</summary>
public class LookCheckTests
{
    private static readonly Instant Sown = Instant.FromUtc(2026, 2, 1, 8, 0);

    [Theory]
    [InlineData(13, 5, "more up (13) than sown (12)")]
    [InlineData(-1, 5, "a count starts at 0")]
    [InlineData(2, -1, "before the sowing")]
    [InlineData(2, 6, "what has come up stays counted")]
    [InlineData(6, 2, "which is later")]
    public void A_look_that_cannot_be_true_is_refused_with_the_reason(int up, int day, string reason) =>
        Assert.Contains(reason, LookCheck.WhyNot(WithLooks((4, 4)), At(day, up))!.ToString(), StringComparison.Ordinal);

    [Theory]
    [InlineData(4, 4)]
    [InlineData(0, 1)]
    [InlineData(12, 9)]
    public void A_look_that_can_be_true_is_taken(int up, int day) =>
        Assert.Null(LookCheck.WhyNot(WithLooks((2, 1), (4, 4)), At(day, day == 1 ? 0 : up)));

    [Fact]
    public void Looks_out_of_order_are_refused_when_a_batch_is_taken_whole()
    {
        var refusal = Assert.Throws<LookRefusedException>(() => LookCheck.RequireAll(WithLooks((4, 1), (3, 1))));

        Assert.Contains("in order of time", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Falling_counts_are_refused_when_a_batch_is_taken_whole() =>
        Assert.Throws<LookRefusedException>(() => LookCheck.RequireAll(WithLooks((3, 5), (4, 4))));

    [Fact]
    public void A_refusal_tells_its_moments_as_it_is_asked_to()
    {
        var refusal = LookCheck.WhyNot(WithLooks((4, 4)), At(5, 2))!;

        Assert.Contains("4 were up at 2026-02-05 08:00 UTC:", refusal.ToString(), StringComparison.Ordinal);
        Assert.Contains("4 were up at day 4:", refusal.Tell(at => $"day {(at - Sown).Days}"), StringComparison.Ordinal);
    }

    private static Batch WithLooks(params (int Day, int Up)[] looks) => new(
        new BatchId("T1"), new CropId("tomato"), null, SowingMethod.CoveredMix, Sown, 12, [],
            [.. looks.Select(look => At(look.Day, look.Up))]);

    private static Look At(int day, int up) => new(Sown + Duration.FromDays(day), up);
}

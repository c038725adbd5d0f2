using Chamber.Core.Plans;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Plans;

/// <summary>Days of a mat that crops share.</summary>
public sealed class SharedDaysTests
{
    private static readonly LocalDate March = new(2026, 3, 1);

    [Fact]
    public void Days_together_are_divided_and_days_alone_are_not() =>
        // The first is there alone for two days and with the second for two; the third never does.
        Assert.Equal([3, 4, 0], SharedDays.Of([(March, March.PlusDays(4)), (March.PlusDays(2), March.PlusDays(7)), null]));

    [Property]
    public void The_shares_add_up_to_the_days_on_which_it_runs((byte From, byte Days)[] drawn)
    {
        var stays = drawn.Select(one => ((LocalDate, LocalDate)?)(March.PlusDays(one.From), March.PlusDays(one.From + one.Days))).ToArray();
        var days = drawn.SelectMany(one => Enumerable.Range(one.From, one.Days)).Distinct().Count();

        Assert.Equal(days, SharedDays.Of(stays).Sum(), 1e-6);
    }
}

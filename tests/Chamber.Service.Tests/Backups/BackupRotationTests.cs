using Chamber.Service.Backups;
using NodaTime;

namespace Chamber.Service.Tests.Backups;

public class BackupRotationTests
{
    private static readonly LocalDate Start = new(2027, 1, 4);

    [Fact]
    public void Seven_days_and_the_newest_of_each_week_before_them_are_kept()
    {
        var days = Enumerable.Range(0, 28).Select(Start.PlusDays).ToList();
        var kept = days.Except(BackupRotation.Surplus(days, daily: 7, weekly: 2)).ToList();
        LocalDate[] weeks = [new(2027, 1, 17), new(2027, 1, 24)];
        Assert.Equal([.. weeks, .. days.TakeLast(7)], kept);
    }

    [Theory]
    [InlineData(7, 4)]
    [InlineData(3, 8)]
    [InlineData(1, 0)]
    public void After_any_run_of_days_each_old_state_is_within_a_week_of_a_backup(int daily, int weekly)
    {
        var kept = new List<LocalDate>();
        for (var day = Start; day < Start.PlusDays(400); day = day.PlusDays(1))
        {
            kept.Add(day);
            kept.RemoveAll(BackupRotation.Surplus(kept, daily, weekly).Contains);

            Assert.InRange(kept.Count, 1, daily + weekly);
            Assert.Equal(Enumerable.Range(0, daily).Select(back => day.PlusDays(-back)).Where(past => past >= Start),
                kept.OrderDescending().Take(daily));
            var gaps = kept.Zip(kept.Skip(1), (older, newer) => Period.DaysBetween(older, newer));
            Assert.All(gaps, gap => Assert.InRange(gap, 1, 7));
        }
    }

    [Fact]
    public void The_only_backup_is_never_surplus()
    {
        Assert.Empty(BackupRotation.Surplus([Start], daily: 1, weekly: 0));
        Assert.Empty(BackupRotation.Surplus([], daily: 7, weekly: 4));
    }
}

using Chamber.Service.Backups;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Backups;

/// <summary>Days and rotation are the program's own, kept to notice change.</summary>
public sealed class ScheduledBackupsTests : IDisposable
{
    private static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private static readonly Instant Night = Instant.FromUtc(2027, 3, 1, 3, 0);

    private readonly TempFolder folder = new();
    private readonly ChamberStore store;

    public ScheduledBackupsTests() => store = ChamberStore.Open(Data.Database);

    private DataDirectory Data => new(folder.Path);

    private ScheduledBackups Schedule => new(new() { Daily = 2, Weekly = 0 }, Data, Berlin);

    [Fact]
    public void One_a_day_is_written_read_through_and_rotated()
    {
        var first = Schedule.Pass(store, Night).Written!;
        Assert.Equal(Path.Combine(Data.Backups, "daily-20270301.db"), first.Path);
        Assert.Null(Schedule.Pass(store, Night + Duration.FromHours(20)).Written);

        Assert.NotNull(Schedule.Pass(store, Night + Duration.FromDays(1)).Written);
        Assert.Equal(1, Schedule.Pass(store, Night + Duration.FromDays(2)).Removed);
        Assert.Equal([new LocalDate(2027, 3, 3), new LocalDate(2027, 3, 2)], Schedule.Days);
        Assert.Equal(first.Counts, ChamberStore.Verify(Schedule.PathOf(new(2027, 3, 3))).Counts);
    }

    [Fact]
    public void The_hour_is_that_of_the_home_also_when_summer_begins()
    {
        Assert.Equal(new LocalDate(2027, 2, 28), Schedule.Due(Instant.FromUtc(2027, 3, 1, 2, 29)));
        Assert.Equal(new LocalDate(2027, 3, 1), Schedule.Due(Instant.FromUtc(2027, 3, 1, 2, 30)));
        Assert.Equal(Instant.FromUtc(2027, 3, 28, 1, 30), Schedule.Next(Instant.FromUtc(2027, 3, 27, 12, 0)));
    }

    [Fact]
    public void A_missed_one_is_made_up_for_and_those_made_by_hand_are_never_removed()
    {
        Directory.CreateDirectory(Data.Backups);
        store.BackUp(Path.Combine(Data.Backups, "chamber-20270101-080000.db"));
        Schedule.Pass(store, Night);
        Schedule.Pass(store, Night + Duration.FromDays(9));
        Schedule.Pass(store, Night + Duration.FromDays(20));
        Assert.Equal(
            ["chamber-20270101-080000.db", "daily-20270310.db", "daily-20270321.db"],
            Directory.GetFiles(Data.Backups).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_folder_that_somebody_named_is_not_made_since_its_disk_may_be_away()
    {
        var stick = folder.File("stick");
        var away = new ScheduledBackups(new() { Folder = "stick" }, Data, Berlin);
        Assert.Contains("Plug its disk in", Assert.Throws<IOException>(() => away.Pass(store, Night)).Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(stick));

        Directory.CreateDirectory(stick);
        Assert.StartsWith(stick, away.Pass(store, Night).Written!.Path, StringComparison.Ordinal);
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }
}

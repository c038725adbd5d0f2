using Chamber.Club.Store;
using Chamber.Core.Climate;
using Chamber.Service.Tests.Storage;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Club.Tests.Store;

/// <summary>Old readings are summed up as the data file of a home does it: both are given the same and say the same. Readings are
/// invented.</summary>
public sealed class ClubRollUpTests(ClubServer server) : IAsyncLifetime
{
    private const int Day = 24 * 60;
    private static readonly Interval Always = new(null, null);
    private static readonly Instant Far = DataFile.Start + Duration.FromDays(1000);
    private static readonly string[] Probes = ["shelf", "sill"];

    private readonly DataFile file = new();
    private ChamberStore? single;
    private ClubDatabase? club;
    private int home;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        single = file.Open(new() { Readings = Durability.ProcessEnd });
        club = await server.Database();
        home = await club.AddHomeAsync("mill-lane-4", Stop);
    }

    [Theory]
    [InlineData(20_000)]
    [InlineData(500)]
    public async Task A_home_of_a_club_is_rolled_up_as_a_single_one(int readingsMax)
    {
        var noise = new Random(11);
        await Both([.. Probes.SelectMany(probe => Enumerable.Range(0, 2 * Day).Select(minute => Swinging(minute, probe, noise)))]);
        await RollUp(readingsMax);
        var rolled = await Same();
        Assert.InRange(rolled, 500, 4 * Day * 3 / 4);

        // Imported again it doubles nothing; what is new and late is rolled up too.
        await Both([.. Enumerable.Range(0, Day).Select(minute => DataFile.At(minute))]);
        await Both([.. Enumerable.Range(-Day, Day).Select(minute => DataFile.At(minute, 21 + minute % 3 / 10.0))]);
        await Same();
        await RollUp(readingsMax);
        await Same();
        var result = await club!.RollUpAsync(home, Far, cancel: Stop);
        Assert.False(result.More);
        Assert.Equal(0, result.Removed);
    }

    [Fact]
    public async Task Younger_readings_stay_as_they_are()
    {
        await Both(DataFile.Minutes(0, 120));
        var until = DataFile.At(60).MeasuredAt;
        await club!.RollUpAsync(home, until, cancel: Stop);
        Assert.Equal(DataFile.Minutes(60, 60), await Readings(new("shelf"), new(until, null)));
        Assert.InRange((await Readings(new("shelf"), Always)).Count, 61, 100);
    }

    public async ValueTask DisposeAsync()
    {
        single!.Dispose();
        file.Dispose();
        await club!.DisposeAsync();
    }

    private static Reading Swinging(int minute, string probe, Random noise) => DataFile.At(
        minute, Math.Round(22 + 5 * Math.Sin(2 * Math.PI * minute / (probe == "shelf" ? 37 : Day)) + noise.NextDouble() * 0.2, 2), probe,
        humidity: minute % 7 == 0 ? null : 60 + minute % 5);

    private async Task Both(IReadOnlyList<Reading> readings)
    {
        var kept = single!.Journal.Append(readings, []);
        var taken = await club!.Home(home).AppendAsync(readings, [], [], Stop);
        Assert.Equal((kept.Inserted, kept.Filled, kept.Duplicates), (taken.Inserted, taken.Filled, taken.Duplicates));
    }

    private async Task RollUp(int readingsMax)
    {
        while (single!.Journal.RollUp(Far, readingsMax).More)
        {
        }

        while ((await club!.RollUpAsync(home, Far, readingsMax, Stop)).More)
        {
        }
    }

    private async Task<int> Same()
    {
        var count = 0;
        foreach (var probe in Probes)
        {
            var expected = single!.Journal.Read(new(probe), Always).ToList();
            Assert.Equal(expected, await Readings(new(probe), Always));
            count += expected.Count;
            var part = new Interval(DataFile.At(100.5).MeasuredAt, DataFile.At(907.25).MeasuredAt);
            Assert.Equal(single.Journal.Read(new(probe), part), await Readings(new(probe), part));
        }

        return count;
    }

    private async Task<List<Reading>> Readings(ProbeId probe, Interval when)
    {
        List<Reading> all = [];
        await foreach (var reading in club!.Home(home).ReadingsAsync(probe, when, Stop))
        {
            all.Add(reading);
        }

        return all;
    }
}

using Chamber.Club.Store;
using Chamber.Service.Tests.Storage;
using NodaTime;

namespace Chamber.Club.Tests.Store;

/// <summary>What was measured last, by the one question of the club, against the way that any store can go.</summary>
public sealed class LatestRowsTests(ClubServer server)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_was_measured_last_is_what_any_store_says()
    {
        await using var club = await server.Database();
        var home = await club.AddHomeAsync("mill-lane-4", Stop);
        var store = club.Home(home);
        var readings = Enumerable.Range(0, 90).SelectMany(minute => new[]
        {
            DataFile.At(minute, 20 + minute / 100.0, "shelf", humidity: minute % 40 == 0 ? 50 + minute / 10.0 : null),
            DataFile.At(minute, 18 - minute / 100.0, "sill", humidity: 60),
        });
        await store.AppendAsync([.. readings], [], [], Stop);
        var now = DataFile.At(70).MeasuredAt;

        var quick = await club.AsAsync(home, session => LatestRows.ReadAsync(session, home, now), Stop);
        Assert.Equal(await NewestReadings.OfAsync(store, now, Stop), quick);
        Assert.Equal(2, quick!.Count);

        // A probe that has been silent for a day takes the longer way.
        var later = now + Duration.FromDays(2);
        Assert.Null(await club.AsAsync(home, session => LatestRows.ReadAsync(session, home, later), Stop));
        Assert.Equal(await NewestReadings.OfAsync(store, later, Stop), await store.LatestAsync(later, Stop));
    }
}

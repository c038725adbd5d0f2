using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Home;

/// <summary>What is said of moisture on a spot: by a calibrated media probe, otherwise by the air. The dew point is that of
/// Psychrometrics, which is tested against its source; raw values are invented.</summary>
public sealed class SpotMoistureTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task The_air_says_what_it_can_where_no_media_probe_is()
    {
        await home.Do("spot add shelf --kind shelf --light dim --room 2", "probe add air --measures air", "probe move air shelf");
        Assert.DoesNotContain("dew point", await Out(), StringComparison.Ordinal);

        await Read("air", "22,98", "22,98", "22,60");
        Assert.Contains("The air lies 8.1 °C above its dew point (60 %): dry enough for open mix and towels to lose water. How wet they "
            + "are the air does not say. For 2 of the 2 h", await Out(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_media_probe_with_both_its_points_comes_before_the_air()
    {
        await home.Do(
            "spot add shelf --kind shelf --light dim --room 2", "probe add air --measures air", "probe move air shelf",
                "probe add soil --measures media", "probe move soil shelf",
            "calibrate dry soil --raw 200", "calibrate saturated soil --raw 800");
        await Read("air", "22,60");
        using (var store = ChamberStore.Open(home.File("chamber.db")))
        {
            var now = Instant.FromDateTimeOffset(home.Clock.GetUtcNow());
            store.Journal.Append([new(new ProbeId("soil"), now, now, Temperature.FromCelsius(21), null, 560)], []);
        }

        Assert.Contains("The media is at 60 % of its own saturated reading.", await Out(), StringComparison.Ordinal);
    }

    // The screen wraps its lines.
    private async Task<string> Out() =>
        string.Join(' ', (await home.Run("spots", "--spot", "shelf")).Out.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private async Task Read(string probe, params string[] rows)
    {
        var start = Instant.FromDateTimeOffset(home.Clock.GetUtcNow());
        await File.WriteAllLinesAsync(
            home.File("air.csv"),
            ["at,temperature,humidity",
                .. rows.Select((row, hour) => string.Create(CultureInfo.InvariantCulture, $"{start + Duration.FromHours(hour)},{row}"))],
            TestContext.Current.CancellationToken);
        home.Clock.Advance(TimeSpan.FromHours(rows.Length - 1) + TimeSpan.FromMinutes(1));
        await home.Do($"import {home.File("air.csv")} --probe {probe}");
    }
}

using Chamber.Core.Climate;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Commands.Spots;

/// <summary>Offsets by hand from invented readings; 75.4 % over salt at 20 °C has its source in SaltAndMoistureTests.</summary>
public sealed class CalibrateVerbTests : IDisposable
{
    private readonly HomeRig home = new();

    private Instant Now => Instant.FromDateTimeOffset(home.Clock.GetUtcNow());

    public void Dispose() => home.Dispose();

    [Fact]
    public async Task A_night_side_by_side_gives_an_offset_and_changes_no_raw_reading()
    {
        Readings("shelf-1", 10, minute => 21.6 - minute / 300.0);
        Readings("kitchen", 10, minute => 21.0 - minute / 300.0);
        await home.Do("spot add shelf", "probe move shelf-1 shelf --when 2027-02-28");

        var found = await home.Json("calibrate", "offset", "shelf-1", "--against", "kitchen");
        Assert.Equal(-0.6, found.GetProperty("offsetKelvins").GetDouble(), 3);

        home.Clock.Advance(TimeSpan.FromMinutes(10));
        await home.Do("read shelf-1 20.6C");
        var probe = Assert.Single((await home.Json("probes")).EnumerateArray(),
            probe => probe.GetProperty("probe").GetString() == "shelf-1");
        Assert.Equal((20.6, 20.0),
            (probe.GetProperty("temperature").GetDouble(), Math.Round(probe.GetProperty("corrected").GetDouble(), 6)));
        Assert.Contains("-0.60 °C", (await home.Run("probes")).Out, StringComparison.Ordinal);
        Assert.Contains("side by side with kitchen", (await home.Run("calibrate", "list", "--units", "F")).Out, StringComparison.Ordinal);
        using (var store = ChamberStore.Open(home.File("chamber.db")))
        {
            Assert.Equal(21.6, store.Journal.ReadTemperatures(new("shelf-1"), new(null, null)).First().Temperature.Celsius, 6);
        }

        await home.Do("calibrate undo shelf-1");
        Assert.Contains("No probe is calibrated yet", (await home.Run("calibrate", "list")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_told_is_refused_and_nothing_is_kept()
    {
        Readings("shelf-1", 3, _ => 21);
        Readings("kitchen", 3, _ => 21);
        Assert.Contains("whole hours were measured by both", await home.Refusal("calibrate", "offset", "shelf-1", "--against", "kitchen"),
            StringComparison.Ordinal);
        Assert.Equal("chamber: There is no probe \"attic\"; there are kitchen, shelf-1.",
            await home.Refusal("calibrate", "offset", "shelf-1", "--against", "attic"));
        Assert.Contains("cannot be compared with itself", await home.Refusal("calibrate", "offset", "shelf-1", "--against", "shelf-1"),
            StringComparison.Ordinal);
        Assert.Equal(0, (await home.Json("calibrate", "list")).GetArrayLength());
    }

    [Fact]
    public async Task Ice_water_warns_of_water_and_mains()
    {
        Readings("soil", 1, _ => 0.4);
        var outcome = await home.Run("calibrate", "ice", "soil");
        Assert.Contains("unplugged from the mains", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("-0.40 °C is added to soil", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_points_make_the_moisture_scale_and_an_earlier_offset_still_counts()
    {
        Readings("soil", 1, _ => 0.4, _ => 812);
        await home.Do("calibrate ice soil");
        home.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Contains("812 is dry for soil; now take the other point", (await home.Run("calibrate", "dry", "soil")).Out,
            StringComparison.Ordinal);
        home.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Contains("too close", await home.Refusal("calibrate", "saturated", "soil", "--raw", "812"),
            StringComparison.Ordinal);
        Assert.Contains("runs from 812 (dry) to 350 (soaked)", (await home.Run("calibrate", "saturated", "soil", "--raw", "350")).Out,
            StringComparison.Ordinal);
        using var store = ChamberStore.Open(home.File("chamber.db"));
        Assert.Equal((-0.4, 812.0, 350.0), (Math.Round(store.Ledger.SetUp.Calibrations()[^1].Offset.Kelvins, 6),
            store.Ledger.SetUp.Calibrations()[^1].DryRaw, store.Ledger.SetUp.Calibrations()[^1].SaturatedRaw));
    }

    [Fact]
    public async Task A_jar_with_salt_corrects_the_humidity()
    {
        Readings("air", 2, _ => 20, humidity: _ => 79);
        var found = await home.Json("calibrate", "salt", "air");
        Assert.Equal(-3.6, found.GetProperty("humidityPoints").GetDouble(), 1);
    }

    private void Readings(string probe, int hours, Func<int, double> celsius, Func<int, double>? moisture = null,
        Func<int, double>? humidity = null)
    {
        using var store = ChamberStore.Open(home.File("chamber.db"));
        var start = Now - Duration.FromHours(hours);
        store.Journal.Append(
            [
                .. Enumerable.Range(0, hours * 20).Select(i => 3 * i).Select(minute => new Reading(
                    new(probe), start + Duration.FromMinutes(minute), start, Temperature.FromCelsius(celsius(minute)),
                    humidity is null ? null : RelativeHumidity.FromPercent(humidity(minute)), moisture?.Invoke(minute))),
            ],
            []);
    }
}

using Chamber.Core.Climate;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Home;

/// <summary>A media probe as evidence of a batch's water, once both its points were taken. The home and its raw values are
/// invented.</summary>
public sealed class BatchMoistureTests : IDisposable
{
    private readonly HomeRig home = new();

    public void Dispose() => home.Dispose();

    private Instant Now => Instant.FromDateTimeOffset(home.Clock.GetUtcNow());

    [Fact]
    public async Task A_dry_box_is_told_from_an_old_lot_by_its_probe_alone()
    {
        await Sown(260);
        var calibrated = await Review();
        Assert.Equal("driedOut", calibrated.GetProperty("cause").GetString());
        Assert.Contains("explains the count", calibrated.GetProperty("verdict").GetString(), StringComparison.Ordinal);
        Assert.Contains("times as well as a dead or weak lot does", calibrated.GetProperty("verdict").GetString(),
            StringComparison.Ordinal);
        Assert.True(await ChanceOfMore() > 0.7);
    }

    [Fact]
    public async Task A_probe_in_damp_media_or_without_its_points_says_nothing_of_dryness()
    {
        await Sown(560);
        Assert.NotEqual("driedOut", (await Review()).GetProperty("cause").GetString());
        Assert.InRange(await ChanceOfMore(), 0.01, 0.5);
    }

    /// <summary>Twelve tomatoes in mix at 22 °C, none up after twelve days, the probe at a raw value of which 200 is dry and 800
    /// saturated.</summary>
    private async Task Sown(double raw)
    {
        await home.Do(
            "spot add shelf --kind shelf --light dim --room 2", "probe add soil --measures media", "probe move soil shelf",
            "calibrate dry soil --raw 200", "calibrate saturated soil --raw 800");
        home.Clock.Advance(TimeSpan.FromDays(14));
        using (var store = ChamberStore.Open(home.File("chamber.db")))
        {
            store.Journal.Append([.. Enumerable.Range(0, 13 * 24 * 2).Select(half => Now - Duration.FromMinutes(30 * half)).Reverse()
                .Select(at => new Reading(new ProbeId("soil"), at, at, Temperature.FromCelsius(22), null, raw))], []);
        }

        await home.Do($"sow tomato --seeds 12 --spot shelf --name T1 --when {Now - Duration.FromDays(12)}", "look T1 0");
    }

    private async Task<System.Text.Json.JsonElement> Review() => await home.Json("review", "T1");

    private async Task<double> ChanceOfMore() => (await home.Json("batches")).EnumerateArray().Single()
        .GetProperty("forecast").GetProperty("chanceOfMore").GetDouble();
}

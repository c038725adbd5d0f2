using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Batches;

/// <summary>Hours are counted by hand.</summary>
public class WarmDarkTests
{
    [Fact]
    public void Hours_count_from_the_first_seen_until_the_move_to_the_light()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (5, 0), (6, 3)) with { Stages = [new(StageKind.MovedToLight, Some.Day(8))] };
        var window = WarmDark.Window(batch, _ => LightLevel.Dark, Some.Day(20))!.Value;
        Assert.Equal(new Interval(Some.Day(6), Some.Day(8)), window);
        var samples = Enumerable.Range(0, 24 * 12)
            .Select(hour => new TemperatureSample(Some.Day(hour / 24.0), Temperature.FromCelsius(26)));
        Assert.Equal(48, WarmDark.Hours(Some.Crop("tomato"), samples, window, Duration.FromHours(2)).TotalHours, 1e-6);
    }

    [Fact]
    public void A_bright_spot_is_the_light_and_a_cool_one_is_not_warm()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (6, 3));
        var window = WarmDark.Window(batch, _ => LightLevel.Bright, Some.Day(20))!.Value;
        Assert.Equal(Duration.Zero, window.Duration);
        Assert.Null(WarmDark.Window(Some.Batch(), _ => LightLevel.Dark, Some.Day(20)));
        var samples = Enumerable.Range(0, 48).Select(hour => new TemperatureSample(Some.Day(6 + hour / 24.0), Temperature.FromCelsius(15)));
        Assert.Equal(Duration.Zero, WarmDark.Hours(Some.Crop("tomato"), samples, new(Some.Day(6), Some.Day(8)), Duration.FromHours(2)));
    }
}

using Chamber.Core.Climate;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Core.Tests.Forecasts;

public class NoContradictionTests
{
    [Fact]
    public void Times_and_counts_never_contradict_each_other_at_any_temperature()
    {
        foreach (var name in new[] { "tomato", "lettuce", "melon", "pea", "basil", "celery", "onion" })
        {
            var question = new CropQuestion(Some.Crop(name), 12);
            for (var celsius = -4; celsius <= 48; celsius += 2)
            {
                var forecast = CropForecast.AtSteady(question, Temperature.FromCelsius(celsius));
                var where = $"{name} at {celsius} °C: {forecast.Half.Mid?.TotalDays} days, {forecast.StandLow} to "
                    + $"{forecast.StandHigh} of 12";
                Assert.True(forecast.NoneLikely == forecast.Half.Mid is null, where);
                Assert.True(forecast.NoneLikely == forecast.First.Low is null, where);
                Assert.True(!forecast.NoneLikely || forecast.Stand.High == 0, where);
            }
        }
    }

    [Fact]
    public void Where_no_warmth_comes_nothing_is_counted_on()
    {
        var frozen = CropForecast.AtSteady(new(Some.Crop("tomato"), 12), Temperature.FromCelsius(-10));
        Assert.Equal((0, 0, true), (frozen.StandLow, frozen.StandHigh, frozen.NoneLikely));
        Assert.Null(frozen.Half.Mid);
    }
}

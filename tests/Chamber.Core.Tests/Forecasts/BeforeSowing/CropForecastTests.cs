using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts.BeforeSowing;

public class CropForecastTests
{
    /// <summary>So many seeds that an order statistic is the curve itself.</summary>
    private const int Many = 400;

    [Theory]
    [InlineData(22.5, 4)]
    [InlineData(7.5, 16)]
    public void Onion_on_paper_is_half_up_after_the_days_of_the_published_example(double celsius, double days)
    {
        // J. L. Brewster, Onions and Other Vegetable Alliums (CABI), figure 4.7: 4 days at 22.5 °C or 16 days at 7.5 °C.
        var forecast = CropForecast.AtSteady(new(Onion, Many), Celsius(celsius));

        Assert.Equal(days, forecast.Half.Mid!.Value.TotalDays, 0.01 * days);
        Assert.Equal(days * 24 * (celsius - 2.5), EmergenceCurve.Of(Onion.Profile, 1).WarmHoursTo(0.5).CelsiusHours, 1e-6);
        Assert.Equal(EmergenceEvent.RootSeen, forecast.Event);
    }

    [Fact]
    public void Two_days_warm_and_eight_days_cool_add_up_to_the_same_half()
    {
        // The same source's numbers in two parts: 2 d at 22.5 °C and 8 d at 7.5 °C are 40 + 40 °C·d.
        var forecast = CropForecast.Along(new(Onion, Many), [Sample(0, 22.5), Sample(2, 22.5), Sample(2, 7.5), Sample(30, 7.5)]);

        Assert.Equal(10, forecast.Half.Mid!.Value.TotalDays, 0.15);
    }

    [Fact]
    public void Tomato_of_the_1954_table_is_half_up_when_the_table_says()
    {
        // J. F. Harrington and P. A. Minges 1954: 8 days at 20 °C (68 °F), 6 at 25 °C (77 °F), to the day.
        Assert.Equal(8, CropForecast.AtSteady(new(Tomato, Many), Celsius(20)).Half.Mid!.Value.TotalDays, 0.75);
        Assert.Equal(6, CropForecast.AtSteady(new(Tomato, Many), Celsius(25)).Half.Mid!.Value.TotalDays, 0.75);
    }

    [Fact]
    public void First_comes_before_half_and_half_before_most_and_intervals_rise()
    {
        var forecast = CropForecast.AtSteady(new(Tomato, 12), Celsius(20));

        Assert.All([forecast.First, forecast.Half, forecast.Most], time => Assert.True(time.Low < time.Mid && time.Mid < time.High));
        Assert.True(forecast.First.Mid < forecast.Half.Mid && forecast.Half.Mid < forecast.Most.Mid);
        Assert.True(forecast.Stand.Low < forecast.Stand.Mid && forecast.Stand.Mid <= forecast.Stand.High && forecast.Stand.High <= 1);
    }

    [Fact]
    public void More_seeds_bring_the_first_sooner()
    {
        var few = CropForecast.AtSteady(new(Tomato, 4), Celsius(20));
        var many = CropForecast.AtSteady(new(Tomato, 100), Celsius(20));

        Assert.True(many.First.Mid < few.First.Mid);
        Assert.Equal(many.Half.Mid!.Value.TotalDays, few.Half.Mid!.Value.TotalDays, 0.5);
    }

    [Fact]
    public void Below_the_base_temperature_nothing_comes_up_and_no_day_is_named()
    {
        var forecast = CropForecast.AtSteady(new(Tomato, 12), Celsius(5));

        Assert.Null(forecast.First.Low);
        Assert.Null(forecast.Stop.After);
        Assert.True(forecast.Stop.IsSlow);
        Assert.Equal(0, forecast.ChanceFirstUp);
    }

    [Fact]
    public void The_heat_takes_from_the_stand_what_the_table_says()
    {
        var best = CropForecast.AtSteady(new(Tomato, Many), Celsius(20));
        var hot = CropForecast.AtSteady(new(Tomato, Many), Celsius(35));

        Assert.Equal(0.46 / 0.98, hot.Stand.Mid / best.Stand.Mid, 0.04);
    }

    [Fact]
    public void A_trace_that_never_changes_is_the_steady_temperature()
    {
        var steady = CropForecast.AtSteady(new(Tomato, 12), Celsius(21));
        var trace = CropForecast.Along(new(Tomato, 12), [Sample(0, 21), Sample(3, 21)]);

        Assert.Equal(steady.Half.Mid!.Value.TotalDays, trace.Half.Mid!.Value.TotalDays, 1e-3);
        Assert.Equal(steady.Most.High!.Value.TotalDays, trace.Most.High!.Value.TotalDays, 1e-3);
    }

    [Fact]
    public void Roots_on_a_towel_have_a_wider_window_than_the_shoots_of_the_table()
    {
        var mix = CropForecast.AtSteady(new(Tomato, 12), Celsius(21));
        var towel = CropForecast.AtSteady(new(Tomato, 12) { Method = SowingMethod.DampTowel }, Celsius(21));

        Assert.True(towel.Half.Mid < mix.Half.Mid);
        Assert.True(towel.Half.High!.Value / towel.Half.Low!.Value > mix.Half.High!.Value / mix.Half.Low!.Value);
        Assert.Equal(EmergenceEvent.RootSeen, towel.Event);
    }

    [Fact]
    public void The_same_question_always_gets_the_same_answer() =>
        Assert.Equal(CropForecast.AtSteady(new(Tomato, 12), Celsius(20)), CropForecast.AtSteady(new(Tomato, 12), Celsius(20)));
}

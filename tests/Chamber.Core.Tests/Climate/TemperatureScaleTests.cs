using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Plans;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Climate;

/// <summary>A home in °F reads no °C: every sentence of Core that names a temperature is asked for it.</summary>
public class TemperatureScaleTests
{
    private static readonly LocalDate Sown = new(2026, 3, 1);

    // ISO/IEC 80000-5: t/°F = 9/5 t/°C + 32; a difference has no offset.
    [Theory]
    [InlineData(0, "0 °C", "32 °F")]
    [InlineData(21.5, "21.5 °C", "71 °F")]
    [InlineData(-40, "-40 °C", "-40 °F")]
    [InlineData(100, "100 °C", "212 °F")]
    public void A_temperature_is_shown_with_its_unit(double celsius, string inCelsius, string inFahrenheit)
    {
        var temperature = Temperature.FromCelsius(celsius);
        Assert.Equal((inCelsius, inFahrenheit),
            (TemperatureScale.Celsius.Show(temperature), TemperatureScale.Fahrenheit.Show(temperature)));
    }

    [Fact]
    public void A_difference_of_a_degree_is_not_a_degree_above_freezing()
    {
        var difference = TemperatureDifference.FromKelvins(0.5);
        Assert.Equal(("0.5 °C", "1 °F"), (TemperatureScale.Celsius.Show(difference), TemperatureScale.Fahrenheit.Show(difference)));
        Assert.Equal(("0.50 °C", "0.9 °F"),
            (TemperatureScale.Celsius.ShowSmall(difference), TemperatureScale.Fahrenheit.ShowSmall(difference)));
        Assert.Equal("64 to 70 °F", TemperatureScale.Fahrenheit.Show(18, 21));
    }

    [Fact]
    public void Reminders_speak_the_unit_of_the_home()
    {
        var words = string.Join('\n', Reminders.For(Day(Some.Batch(12, SowingMethod.CoveredMix, (6, 5))))
            .Select(reminder => reminder.Words));
        Assert.Contains("°F", words, StringComparison.Ordinal);
        Assert.DoesNotContain("°C", words, StringComparison.Ordinal);
        Assert.Contains("stays above 50 °F",
            string.Join('\n', HardeningLadder.For(Some.Crop("tomato").Guide, Sown, TemperatureScale.Fahrenheit).Select(step => step.What)),
            StringComparison.Ordinal);
    }

    [Fact]
    public void The_judgement_of_a_test_speaks_the_unit_of_the_home()
    {
        var said = FairTest.Judge(Some.Crop("lettuce"), new(0, 12, 72, 0), TemperatureScale.Fahrenheit).Because;
        Assert.Contains("°F", said, StringComparison.Ordinal);
        Assert.DoesNotContain("°C", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_kind_of_alert_speaks_the_unit_of_the_home()
    {
        var at = Instant.FromUtc(2026, 3, 1, 12, 0);
        var figures = Enum.GetValues<FigureName>().Select(name => new Figure(name, 30)).ToList();
        foreach (var kind in ConditionRegistry.Kinds)
        {
            var alert = new Alert(kind, AlertSubject.Of(new SpotId("shelf")), Severity.Warning, at, at, null, null,
                new(new("p"), at, at, figures, ProbeFault.Spike), []);
            var text = ConditionRegistry.InWords(alert, new(), new(Fahrenheit: true, DateTimeZone.Utc)).ToString();
            Assert.False(text.Contains("°C", StringComparison.Ordinal), text);
        }
    }

    private static BatchDay Day(Batch batch) => new(
        batch, Some.Crop("tomato"), new(Sown.PlusDays(5), Sown.PlusDays(8), Sown.PlusDays(21)), LightLevel.Dark, Sown.PlusDays(70),
            Sown.PlusDays(1), DateTimeZone.Utc)
    {
        Scale = TemperatureScale.Fahrenheit,
    };
}

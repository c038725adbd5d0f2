using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts.Conditions.SurveyStale;

/// <summary>
/// The watch, hour by hour, and whoever looks back over the same readings say the same of a survey. The bounds are the program's own, no
/// source; the home is invented.
/// </summary>
public sealed class SurveyRuleTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 2, 0, 0);
    private static readonly SpotId Shelf = new("shelf");
    private static readonly Probe Air = new(new("air"), Measurand.Air, Duration.FromHours(2));

    [Theory]
    [InlineData(1.9, 96, false)]
    [InlineData(2.1, 46, false)]
    [InlineData(2.1, 50, true)]
    [InlineData(-2.1, 50, true)]
    [InlineData(3, 60, true)]
    public void A_day_that_stays_two_degrees_off_for_a_day_has_left_the_survey(double off, int hours, bool left) =>
        Assert.Equal((left, left), Both(hours, hour => Usual(hour) + off));

    [Fact]
    public void What_has_come_back_to_within_one_degree_for_a_day_has_left_it_no_more() =>
        Assert.Equal((false, false), Both(140, hour => Usual(hour) + (hour < 60 ? 3 : 0.5)));

    // Nights alone are measured: they are compared with nights, not with the mean of a day.
    [Fact]
    public void Hours_that_are_missing_are_not_taken_for_cold_ones() =>
        Assert.Equal((false, false), Both(120, hour => hour % 24 < 8 ? Usual(hour) : null));

    [Fact]
    public void Both_say_the_same_of_any_hours()
    {
        for (var seed = 0; seed < 60; seed++)
        {
            var random = new Random(seed);
            var level = 0.0;
            double?[] off = [.. Enumerable.Range(0, 160)
                .Select(hour => hour % 24 < 4 * random.Next(2) ? null : (double?)(level += Seeded.Normal(random) * 0.5))];
            var (watch, back) = Both(160, hour => Usual(hour) + off[hour]);
            Assert.True(watch == back, $"seed {seed}: the watch says {watch}");
        }
    }

    private static double Usual(int hour) => 20 + 4 * Math.Sin(2 * Math.PI * hour / 24);

    /// <summary>Whether the spot has left its survey after so many hours: by the watch, and by looking back.</summary>
    private static (bool Watch, bool Back) Both(int hours, Func<int, double?> celsius)
    {
        // Every hour stands still, so that its mean is that of its readings.
        var samples = Enumerable.Range(0, hours * 6).Where(index => celsius(index / 6) is not null)
            .Select(index => (At: Start + Duration.FromMinutes(10 * index), Celsius: Temperature.FromCelsius(celsius(index / 6)!.Value)))
                .ToList();
        var survey = Survey.Of(TemperatureTrace.Of([.. Enumerable.Range(-168 * 6, 168 * 6).Select(index =>
            new TemperatureSample(Start + Duration.FromMinutes(10 * index), Temperature.FromCelsius(Usual((index + 168 * 6) / 6))))],
                Air.MaxGap), DateTimeZone.Utc);
        var after = HourlyMeans.Of(TemperatureTrace.Of([.. samples.Select(sample => new TemperatureSample(sample.At, sample.Celsius))],
            Air.MaxGap), DateTimeZone.Utc);

        // The watch has not ended the running hour.
        after = [.. after.SkipLast(1)];
        var watch = new HomeWatch(new HomeFacts
        {
            Probes = [Air],
            Spots = [new(Shelf, SpotKind.Shelf, LightLevel.Dim, 1)],
            Stations = [new(Air.Id, Shelf, new(Start, null))],
            Surveys = [new(Shelf, Start,
                Temperature.FromCelsius(20)) { Hours = [.. survey.Usual.Hours.Select(hour => hour?.Mean.Celsius)] }],
        });
        foreach (var (at, value) in samples)
        {
            watch.Step([new Reading(Air.Id, at, at, value)], at);
        }

        return (watch.Folded().Any(alert => alert.IsOpen && alert.Kind == AlertKind.SurveyStale), survey.HasMovedAway(after));
    }
}

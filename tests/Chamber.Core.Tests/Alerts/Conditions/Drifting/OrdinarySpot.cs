namespace Chamber.Core.Tests.Alerts.Conditions.Drifting;

/// <summary>
/// Hourly means of a spot in an ordinary heated home, invented: a day's course with a warm morning, one year's season, weekends, days that
/// differ, and hours that hang together.
/// </summary>
internal static class OrdinarySpot
{
    public const double HourlyDeviation = 0.3;
    public const double HourlyCorrelation = 0.85;
    public const double DailyDeviation = 0.25;
    public const double SeasonAmplitude = 2.5;
    public const double WeekendKelvins = 0.3;

    public static double[] Hours(Random random, int days, double dailyDeviation = DailyDeviation, double weekend = WeekendKelvins)
    {
        var byDay = Enumerable.Range(0, days + 1).Select(_ => dailyDeviation * Seeded.Normal(random)).ToArray();
        var hourly = 0.0;
        return [.. Enumerable.Range(0, days * 24).Select(hour =>
        {
            hourly = HourlyCorrelation * hourly + HourlyDeviation * Math.Sqrt(
                1 - HourlyCorrelation * HourlyCorrelation) * Seeded.Normal(random);
            var (day, ofDay) = Math.DivRem(hour, 24);
            var course = 3 * Math.Sin(2 * Math.PI * (ofDay - 9) / 24) + (ofDay is 7 or 8 ? 2 : 0);
            var weather = byDay[day] + (byDay[day + 1] - byDay[day]) * ofDay / 24;
            var season = SeasonAmplitude * Math.Sin(2 * Math.PI * hour / 8760);
            return 22 + course + weather + hourly + season + (day % 7 >= 5 ? weekend : 0);
        })];
    }
}

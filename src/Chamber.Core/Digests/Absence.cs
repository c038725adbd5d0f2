using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Digests;

/// <summary>What a spot reached while nobody watched.</summary>
/// <param name="Spot">Which spot.</param>
/// <param name="Low">The lowest temperature that was measured then.</param>
/// <param name="High">The highest.</param>
public sealed record SpotReach(SpotId Spot, Temperature Low, Temperature High);

/// <summary>Says when nobody watched, and what is known of that time from readings that came in later.</summary>
public static class Absence
{
    private static readonly LocalDateTimePattern DayAndTime = LocalDateTimePattern.CreateWithInvariantCulture("ddd d MMM HH:mm");
    private static readonly LocalTimePattern Clock = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    /// <summary>"I was not watching from 02:10 to 06:40"; with the day where it isn't one day.</summary>
    public static string Title(Interval away, DateTimeZone zone) => $"I was not watching {Span(away, zone)}";

    /// <summary>The title when readings that came in later show more of it: "More is known of when I was not watching, from 02:10 to
    /// 06:40".</summary>
    public static string LaterTitle(Interval away, DateTimeZone zone) => $"More is known of when I was not watching, {Span(away, zone)}";

    /// <summary>A line for each spot, the hottest first; one line where nothing is known.</summary>
    public static string Body(IReadOnlyList<SpotReach> reached, int silentSpots, TemperatureScale scale)
    {
        var lines = reached.OrderByDescending(spot => spot.High).Select(spot =>
            $"{spot.Spot} reached {scale.Show(spot.High)}{(spot.Low < spot.High ? $", and was never below {scale.Show(spot.Low)}" : "")}.");
        var silent = silentSpots switch
        {
            0 => [],
            _ when reached.Count == 0 => (string[])["Nothing is known of that time: no reading of it has come in yet."],
            1 => ["Of one other spot nothing is known."],
            _ => [string.Create(CultureInfo.InvariantCulture, $"Of {silentSpots} other spots nothing is known.")],
        };
        return string.Join('\n', lines.Concat(silent));
    }

    private static string Span(Interval away, DateTimeZone zone)
    {
        var (from, to) = (away.Start.InZone(zone).LocalDateTime, away.End.InZone(zone).LocalDateTime);
        return from.Date == to.Date
            ? $"from {Clock.Format(from.TimeOfDay)} to {Clock.Format(to.TimeOfDay)}"
            : $"from {DayAndTime.Format(from)} to {DayAndTime.Format(to)}";
    }
}

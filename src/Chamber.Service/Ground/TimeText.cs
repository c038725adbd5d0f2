using System.Globalization;
using Chamber.Core;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Ground;

/// <summary>Times as people write them in the home's zone, and as they are shown.</summary>
internal static class TimeText
{
    private static readonly LocalDateTimePattern[] LocalPatterns =
    [
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd' 'H':'mm"),
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'H':'mm"),
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd' 'H':'mm':'ss"),
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'H':'mm':'ss"),
    ];

    private static readonly LocalTimePattern TwoDigits = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");

    private static readonly LocalTimePattern TimeOfDay = LocalTimePattern.CreateWithInvariantCulture("H':'mm");

    /// <summary>
    /// Reads <c>2026-03-01T07:40:00Z</c> (RFC 3339), <c>2026-03-01 07:40</c>, <c>2026-03-01</c> (noon), <c>07:40</c> (the last time
    /// it was 07:40), <c>today</c> and <c>yesterday</c> (noon, or now if noon is still to come), and <c>now</c>.
    /// </summary>
    /// <exception cref="FormatException">None of these; the message gives the fix.</exception>
    public static Instant Parse(string text, DateTimeZone zone, Instant now)
    {
        var trimmed = text.Trim();
        if (string.Equals(trimmed, "now", StringComparison.OrdinalIgnoreCase))
        {
            return now;
        }

        if (OffsetDateTimePattern.Rfc3339.Parse(trimmed) is { Success: true } absolute)
        {
            Bounds.Year.Require(absolute.Value.Year);
            return absolute.Value.ToInstant();
        }

        var today = now.InZone(zone).Date;
        if (TimeOfDay.Parse(trimmed) is { Success: true } time)
        {
            var at = (today + time.Value).InZoneLeniently(zone).ToInstant();
            return at <= now ? at : (today.PlusDays(-1) + time.Value).InZoneLeniently(zone).ToInstant();
        }

        if (ParseDate(trimmed, today) is { } date)
        {
            Bounds.Year.Require(date.Year);
            var noon = date.At(new LocalTime(12, 0)).InZoneLeniently(zone).ToInstant();
            return date == today && noon > now ? now : noon;
        }

        return Array.ConvertAll(LocalPatterns, pattern => pattern.Parse(trimmed)).FirstOrDefault(result => result.Success) is { } local
            && Bounds.Year.Require(local.Value.Year) > 0
            ? local.Value.InZoneLeniently(zone).ToInstant()
            : throw new FormatException(
                $"\"{text}\" is not a time: write 07:40, 2026-03-01, \"2026-03-01 07:40\" or 2026-03-01T07:40:00Z.");
    }

    /// <summary>The same for a time of which something can be known: not in the future.</summary>
    public static Instant Known(string text, DateTimeZone zone, Instant now) => Parse(text, zone, now) is var at && at <= now
        ? at
        : throw new FormatException($"{Show(at, zone, now)} is in the future: name a time that has passed.");

    /// <summary>A day: <c>Sat 28 Feb</c>; with the year when it isn't this year.</summary>
    public static string ShowDay(LocalDate day, LocalDate today) =>
        day.ToString(day.Year == today.Year ? "ddd d MMM" : "ddd d MMM uuuu", CultureInfo.InvariantCulture);

    /// <summary><c>07:40</c> when it is today, otherwise <c>Sat 28 Feb 07:40</c>.</summary>
    public static string Show(Instant at, DateTimeZone zone, Instant now)
    {
        var local = at.InZone(zone).LocalDateTime;
        var today = now.InZone(zone).Date;
        var time = TwoDigits.Format(local.TimeOfDay);
        return local.Date == today ? time : $"{ShowDay(local.Date, today)} {time}";
    }

    private static LocalDate? ParseDate(string text, LocalDate today) => text.ToUpperInvariant() switch
    {
        "TODAY" => today,
        "YESTERDAY" => today.PlusDays(-1),
        _ => LocalDatePattern.Iso.Parse(text) is { Success: true } date ? date.Value : null,
    };
}

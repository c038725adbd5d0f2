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
    /// it was 07:40), <c>today</c> and <c>yesterday</c> (noon, or now if noon is still to come), and <c>now</c>. A day may also be
    /// written as <see cref="DayText"/> reads it, and an hour may follow it: <c>8.11.2026 07:40</c>, <c>yesterday 07:40</c>.
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

        if (Array.ConvertAll(LocalPatterns, pattern => pattern.Parse(trimmed)).FirstOrDefault(result => result.Success) is { } local)
        {
            Bounds.Year.Require(local.Value.Year);
            return local.Value.InZoneLeniently(zone).ToInstant();
        }

        return OfDay(trimmed, today, zone, now) ?? throw new FormatException(
            $"\"{text}\" is not a time: write 07:40, 2026-03-01, \"2026-03-01 07:40\" or 2026-03-01T07:40:00Z.");
    }

    /// <summary>The hour that was taken for a day without one, as it is to be told; null where none had to be taken.</summary>
    public static Instant? HourTaken(string text, DateTimeZone zone, Instant now) =>
        DayText.Past(text.Trim(), now.InZone(zone).Date) is null ? null : Parse(text, zone, now);

    private static Instant? OfDay(string text, LocalDate today, DateTimeZone zone, Instant now)
    {
        if (DayText.Past(text, today) is { } day)
        {
            var noon = day.At(new LocalTime(12, 0)).InZoneLeniently(zone).ToInstant();
            return day == today && noon > now ? now : noon;
        }

        return text.LastIndexOf(' ') is > 0 and var space && TimeOfDay.Parse(text[(space + 1)..]) is { Success: true } hour
            && DayText.Past(text[..space].TrimEnd(), today) is { } of
            ? of.At(hour.Value).InZoneLeniently(zone).ToInstant() : null;
    }

    /// <summary>The same for a time of which something can be known: not in the future.</summary>
    public static Instant Known(string text, DateTimeZone zone, Instant now) => Parse(text, zone, now) is var at && at <= now
        ? at
        : throw new FormatException($"{Show(at, zone, now)} is in the future: name a time that has passed.");

    /// <summary>A day: <c>Sat 28 Feb</c>; with the year when it isn't this year.</summary>
    public static string ShowDay(LocalDate day, LocalDate today) =>
        day.ToString(day.Year == today.Year ? "ddd d MMM" : "ddd d MMM uuuu", CultureInfo.InvariantCulture);

    /// <summary>A time as it is typed, for a line to copy: 2026-03-01 07:40.</summary>
    public static string Typed(Instant at, DateTimeZone zone) =>
        at.InZone(zone).LocalDateTime.ToString("uuuu-MM-dd HH:mm", CultureInfo.InvariantCulture);

    /// <summary><c>07:40</c> when it is today, otherwise <c>Sat 28 Feb 07:40</c>.</summary>
    public static string Show(Instant at, DateTimeZone zone, Instant now)
    {
        var local = at.InZone(zone).LocalDateTime;
        var today = now.InZone(zone).Date;
        var time = TwoDigits.Format(local.TimeOfDay);
        return local.Date == today ? time : $"{ShowDay(local.Date, today)} {time}";
    }
}

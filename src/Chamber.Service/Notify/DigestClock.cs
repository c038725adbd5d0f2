using NodaTime;

namespace Chamber.Service.Notify;

/// <summary>When the digest of a day is due.</summary>
internal static class DigestClock
{
    /// <summary>A service that starts later than this after the hour lets the day go: by then a digest is old news.</summary>
    private static readonly Duration LateMax = Duration.FromHours(6);

    /// <summary>The day whose digest is due now; null when none is.</summary>
    /// <param name="at">The hour, in the home's time; in the night of the clock change it is moved as clocks are.</param>
    /// <param name="zone">The home's zone.</param>
    /// <param name="now">The present.</param>
    public static LocalDate? DueOn(LocalTime at, DateTimeZone zone, Instant now)
    {
        var today = now.InZone(zone).Date;
        foreach (var day in new[] { today, today.PlusDays(-1) })
        {
            var due = (day + at).InZoneLeniently(zone).ToInstant();
            if (due <= now && now - due < LateMax)
            {
                return day;
            }
        }

        return null;
    }
}

using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>Hours of the day in which nobody is to be disturbed, half-open; may run over midnight. Equal ends mean none.</summary>
public readonly record struct QuietHours(LocalTime From, LocalTime To)
{
    /// <summary>From 22:00 to 7:00: nobody walks to a seed box at night, whether or not they said so. Common practice, no source.</summary>
    public static QuietHours Usual { get; } = new(new(22, 0), new(7, 0));

    /// <summary>Whether a time of day is quiet.</summary>
    public bool Hold(LocalTime time) =>
        From <= To ? time >= From && time < To : time >= From || time < To;
}

/// <summary>What decides whether somebody should go and look.</summary>
/// <param name="Forecast">The forecast now.</param>
/// <param name="Now">Now, in the home's time.</param>
/// <param name="LastLook">When somebody last looked, if ever.</param>
/// <param name="Reminders">When this batch was reminded of before.</param>
/// <param name="Quiet">The home's quiet hours.</param>
public sealed record LookQuestion(
    EmergenceForecast Forecast,
    ZonedDateTime Now,
    Instant? LastLook,
    IReadOnlyList<Instant> Reminders,
    QuietHours Quiet);

/// <summary>
/// Whether to remind somebody to look now. A fast crop is looked for sooner and more often, because its seedlings are pale, or its roots
/// grown into the towel, within a day. Thresholds and waits are assumptions.
/// </summary>
public static class LookReminder
{
    /// <summary>Nobody is reminded of one batch more often than this on one day.</summary>
    public const int PerDayMax = 2;

    private static readonly Duration Fast = Duration.FromDays(5);
    private static readonly Duration Slow = Duration.FromDays(10);

    /// <summary>Whether a look is due: the first may be up, nobody has looked for a while, and the hour is civil.</summary>
    public static bool IsDue(LookQuestion question)
    {
        var forecast = question.Forecast;
        if (forecast.First.Ever <= 0 || forecast.ChanceFirstUp >= 1 || question.Quiet.Hold(question.Now.TimeOfDay))
        {
            return false;
        }

        var (chance, wait) = Patience(forecast.Half.Mid);
        var now = question.Now.ToInstant();
        var today = question.Reminders.Count(at => at.InZone(question.Now.Zone).Date == question.Now.Date);
        return forecast.ChanceFirstUp >= chance
            && today < PerDayMax
            && Waited(question.LastLook, now, wait)
            && question.Reminders.All(at => Waited(at, now, wait));
    }

    private static bool Waited(Instant? since, Instant now, Duration wait) => since is not { } at || now - at >= wait;

    /// <summary>The chance that is worth a walk, and the time between two of them.</summary>
    private static (double Chance, Duration Wait) Patience(Duration? half) => half switch
    {
        { } time when time <= Fast => (0.3, Duration.FromHours(8)),
        { } time when time <= Slow => (0.4, Duration.FromHours(12)),
        _ => (0.5, Duration.FromHours(22)),
    };
}

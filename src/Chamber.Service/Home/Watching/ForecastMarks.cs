using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>
/// What the forecasts of batches under way ask of people: to look now, or to stop waiting. Worked out again each hour, and at once when
/// anything was written, corrected or taken back that forecasts rest on; between these the marks stand still, so that the watch has
/// nothing to fold again.
/// </summary>
/// <param name="quiet">When nobody is to be sent to look, as it is set now.</param>
internal sealed class ForecastMarks(Func<QuietHours> quiet)
{
    private static readonly Duration Every = Duration.FromHours(1);

    /// <summary>Reminders older than this don't bear on today's.</summary>
    private static readonly Duration Remembered = Duration.FromDays(3);

    private Dictionary<BatchId, (ForecastMark? Look, ForecastMark? Stop)> marks = [];
    private LearningBasis? basis;
    private Instant lastAt = Instant.MinValue;

    /// <summary>Whether an hour has passed since the marks were worked out, or the clock was put back behind that.</summary>
    public bool AreOld(Instant now) => lastAt > now || now - lastAt >= Every;

    /// <summary>The facts with the marks of each batch.</summary>
    public HomeFacts Put(HomeFacts facts, HomeReader home, Instant now)
    {
        var current = LearningBasis.Of(home);
        if (AreOld(now) || !current.Equals(basis))
        {
            var diagnoses = home.At(now).Diagnoses;
            var reminders = Reminders(home, now);
            marks = facts.Batches.ToDictionary(watched => watched.Batch.Id,
                watched => Of(watched.Batch, diagnoses, reminders, now.InZone(home.Zone)));
            (basis, lastAt) = (current, now);
        }

        return Keep(facts);
    }

    /// <summary>The facts with the marks as they were.</summary>
    public HomeFacts Keep(HomeFacts facts) => facts with { Batches = [.. facts.Batches.Select(Marked)] };

    private WatchedBatch Marked(WatchedBatch watched) => marks.TryGetValue(watched.Batch.Id, out var mark)
        ? watched with { LookFrom = mark.Look, StopWaitingFrom = mark.Stop }
        : watched;

    private (ForecastMark? Look, ForecastMark? Stop) Of(Batch batch, HomeDiagnoses diagnoses, IReadOnlyList<Alert> reminders,
        ZonedDateTime now)
    {
        var own = reminders.Where(alert => alert.Subject.Name == batch.Id.Text).ToList();
        if (batch.EndedAt is not null)
        {
            // Nothing more is asked for, and what was asked stays asked.
            var (lookedFor, given) = (own.FindLast(alert => alert.Kind == AlertKind.LookNow),
                own.FindLast(alert => alert.Kind == AlertKind.StopWaiting));
            return (lookedFor is null ? null : Again(lookedFor), given is null ? null : Again(given));
        }

        if (diagnoses.Of(batch) is not { Forecast: { } forecast, Diagnosis: { } diagnosis })
        {
            return default;
        }

        var asked = own.Where(alert => alert.Kind == AlertKind.LookNow).OrderBy(alert => alert.OpenedAt).ToList();
        var lastLook = batch.Looks is [.., var look] ? look.At : (Instant?)null;
        var question = new LookQuestion(forecast, now, lastLook, [.. asked.Select(alert => alert.OpenedAt)], quiet());
        var looks = asked is [.., { IsOpen: false }] or [] && LookReminder.IsDue(question)
            ? new ForecastMark(now.ToInstant(), forecast.ChanceFirstUp)
            : asked is [.., var last] ? Again(last) : (ForecastMark?)null;
        var over = own.FindLast(alert => alert.Kind == AlertKind.StopWaiting && alert.IsOpen);
        var since = over is null ? new ForecastMark(now.ToInstant(), diagnoses.Forecasts.StopBelow) : Again(over);
        ForecastMark? stop = diagnosis is { Phase: BatchPhase.Due, Cause: not AllUp } ? since with { Why = diagnosis.Cause.Kind } : null;
        return (looks, stop);
    }

    // The same moment as before: the fold then says the same again.
    private static ForecastMark Again(Alert alert) =>
        new(alert.OpenedAt,
            alert.Evidence.Figures.FirstOrDefault(figure => figure.Name == FigureName.Chance).Value) { Why = alert.Evidence.Why };

    private static List<Alert> Reminders(HomeReader home, Instant now) =>
        [.. home.Ledger.AlertsSince(now - Remembered)
            .Where(entry => entry.ClosedAt is null || entry.OpenedAt >= now - Remembered)
            .Where(entry => entry.Kind == AlertKind.LookNow || entry.Kind == AlertKind.StopWaiting)
            .Select(AlertRecords.ToAlert)
            .OfType<Alert>()];
}

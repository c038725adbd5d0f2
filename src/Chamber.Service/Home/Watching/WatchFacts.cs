using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>Everything that the watch needs: what the ledger says, what a survey of each week found, and what forecasts have brought
/// due.</summary>
internal sealed class WatchFacts(HomeContext context, SettingsInForce notices)
{
    private readonly Dictionary<(SpotId Spot, LocalDate Week), HourOfDayProfile?> surveys = [];

    private readonly ForecastMarks marks =
        new(() => notices.QuietHours is { } hours ? new(hours.From, hours.To) : Core.Forecasts.QuietHours.Usual);
    private LocalDate week;
    private HomeFacts? surveyed;

    // Stands still while the service runs: a batch that dropped out of the facts would have its whole time folded again without it.
    private Instant? endedAfter;

    private DateTimeZone Zone => context.Zone;

    /// <summary>Whether it is time to read them again though nothing was written: forecasts have moved on, or a week was
    /// surveyed.</summary>
    public bool AreOld(Instant now) => marks.AreOld(now) || WeekOf(now) != week;

    /// <summary>The facts as they are known at an instant.</summary>
    public HomeFacts At(Instant now) => At(context.Read(), now);

    /// <summary>The same of a home that somebody has read: what is not at hand is asked for again by <see
    /// cref="AtHand.AskAsync{T}(Func{T}, CancellationToken)"/>.</summary>
    public HomeFacts At(HomeReader home, Instant now)
    {
        endedAfter ??= now - WatchPast.Reach;
        var facts = Marked(home.Facts(endedAfter), home, now);
        week = WeekOf(now);
        SurveyAnew(facts);
        return facts with { Limits = context.Settings.WatchLimits(), DiagnosisOf = DiagnosisOf,
            Surveys = [.. facts.Spots.SelectMany(spot => Surveys(home, spot.Id, now))] };
    }

    // On damaged pages lies what nobody can forecast or survey from; what people recorded counts all the same.
    private HomeFacts Marked(HomeFacts facts, HomeReader home, Instant now)
    {
        try
        {
            return marks.Put(facts, home, now);
        }
        catch (StoreException problem) when (problem.IsDamage)
        {
            return marks.Keep(facts);
        }
    }

    // Asked when an alert is told: these facts are kept for long, and their reader is not.
    private BatchDiagnosis? DiagnosisOf(BatchId batch)
    {
        try
        {
            return context.Read().DiagnosisOf(batch);
        }
        catch (StoreException problem) when (problem.IsDamage)
        {
            return null;
        }
    }

    // A week is surveyed once, unless its readings are now taken in another way.
    private void SurveyAnew(HomeFacts facts)
    {
        if (surveyed is { } before && !facts.TakesReadingsLike(before))
        {
            surveys.Clear();
        }

        surveyed = facts;
    }

    // From its first day on the survey of the week before counts.
    private LocalDate WeekOf(Instant now) => SurveyWeek.MondayOf(now.InZone(Zone).Date);

    private IEnumerable<SurveyMean> Surveys(HomeReader home, SpotId spot, Instant now)
    {
        var last = WeekOf(now);
        for (var week = last.PlusWeeks(-2); week <= last; week = week.PlusWeeks(1))
        {
            if (!surveys.TryGetValue((spot, week), out var usual) && TrySurvey(home, spot, week, out usual))
            {
                surveys[(spot, week)] = usual;
            }

            if (usual is not null)
            {
                double?[] hours = [.. usual.Hours.Select(hour => hour?.Mean.Celsius)];
                yield return new(spot, Zone.AtStartOfDay(week).ToInstant(),
                    Temperature.FromCelsius(hours.Average()!.Value)) { Hours = hours };
            }
        }
    }

    private bool TrySurvey(HomeReader home, SpotId spot, LocalDate week, out HourOfDayProfile? usual)
    {
        try
        {
            usual = Survey(home, spot, week);
            return true;
        }
        catch (StoreException problem) when (problem.IsDamage)
        {
            usual = null;
            return false;
        }
    }

    /// <summary>What the week before a day found; null when too little of it was measured.</summary>
    private HourOfDayProfile? Survey(HomeReader home, SpotId spot, LocalDate week)
    {
        var when = new Interval(Zone.AtStartOfDay(week.PlusWeeks(-1)).ToInstant(), Zone.AtStartOfDay(week).ToInstant());
        return SurveyWeek.Of(HourlyMeans.Of(home.Trace(spot, when), Zone), week, Zone);
    }
}

using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>How far a survey can be trusted by its length.</summary>
public enum SurveyStage
{
    /// <summary>Less than 72 h: enough to rule a spot out, not to choose it.</summary>
    Provisional,

    /// <summary>72 h to 7 days: a weekend or a cold spell may be missing.</summary>
    Usable,

    /// <summary>7 days and more.</summary>
    Normal,

    /// <summary>The spot is no longer as it was surveyed: survey it again.</summary>
    Stale,
}

/// <summary>
/// The readings of a spot over some days, summed up by hour of day, with their coverage. Made once for each spot; the suitability for every
/// crop reads from it. Time is kept by temperature in steps of 0.1 °C for each hour of each day.
/// </summary>
public sealed class Survey
{
    private static readonly double ProvisionalUntil = 72;
    private static readonly double NormalFrom = 7 * 24;

    private readonly bool isStale;

    private Survey(TemperatureTrace trace, IReadOnlyList<HourlyMean> hours, HourOfDayProfile usual, SurveyGrid grid, bool isStale)
    {
        Span = trace.Span;
        Hours = hours;
        Usual = usual;
        Grid = grid;
        this.isStale = isStale;
        MeasuredHours = trace.MeasuredTime.TotalHours;
        Trust = MeanOver(trace, Trusted);
        Accuracy = TemperatureDifference.FromKelvins(MeanOver(trace, origin => ProbeAccuracy.Of(origin).Kelvins));
    }

    /// <summary>From the first reading to the last; null when there are none.</summary>
    public Interval? Span { get; }

    /// <summary>The hourly means it is made of.</summary>
    public IReadOnlyList<HourlyMean> Hours { get; }

    /// <summary>The usual day.</summary>
    public HourOfDayProfile Usual { get; }

    /// <summary>Hours between readings no further apart than the probe's bound.</summary>
    public double MeasuredHours { get; }

    /// <summary>How many of the 24 hours of day were measured.</summary>
    public int HoursOfDay => Usual.Hours.Count(hour => hour is not null);

    /// <summary>Share of its span that was measured, times the share of the hours of day that were: 0 to 1.</summary>
    public double Coverage => Span is { } span && span.Duration > Duration.Zero
        ? Math.Min(1, MeasuredHours / span.Duration.TotalHours) * HoursOfDay / 24
        : 0;

    /// <summary>By its length, unless the spot is known to have moved away from it.</summary>
    public SurveyStage Stage =>
        isStale ? SurveyStage.Stale
        : MeasuredHours < ProvisionalUntil ? SurveyStage.Provisional
        : MeasuredHours < NormalFrom ? SurveyStage.Usable
        : SurveyStage.Normal;

    /// <summary>Mean difference of the warmest and the coolest hour of a day; none without readings.</summary>
    public TemperatureDifference Swing => TemperatureDifference.FromKelvins(
        Hours.Count == 0
            ? 0
            : Hours.GroupBy(hour => hour.Date).Average(day => day.Max(hour => hour.Mean.Celsius) - day.Min(hour => hour.Mean.Celsius)));

    /// <summary>The warmest hourly mean; null without readings.</summary>
    public Temperature? Warmest => Hours.Count == 0 ? null : Hours.Max(hour => hour.Mean);

    /// <summary>The coolest hourly mean; null without readings.</summary>
    public Temperature? Coolest => Hours.Count == 0 ? null : Hours.Min(hour => hour.Mean);

    /// <summary>
    /// How much the kind of probe and its calibration let one believe the level, 0 to 1: 1 for calibrated media, times 0.85 for an outside
    /// surface or 0.7 for air, times 0.8 where the offset isn't known. Proposed values, no source.
    /// </summary>
    public double Trust { get; }

    /// <summary>How far the whole survey may be shifted by what its probes can't know: the mean of their accuracies over the measured time.
    /// None without readings.</summary>
    public TemperatureDifference Accuracy { get; }

    /// <summary>0 to 100: coverage, length up to 7 days, kind of probe and calibration. Says how well the spot is known, not how good it
    /// is.</summary>
    public double Confidence => 100 * Coverage * Math.Min(1, MeasuredHours / NormalFrom) * Trust;

    internal SurveyGrid Grid { get; }

    /// <summary>Sums a trace up.</summary>
    /// <param name="trace">The temperature of the spot over the days to be surveyed; may be empty.</param>
    /// <param name="zone">The home's zone.</param>
    /// <param name="isStale">Whether the watch has reported that the spot is no longer as it was surveyed.</param>
    /// <param name="today">The local day on which it is asked, to compare this week's hours with the last week's as the watch does, where
    /// no watch runs; null to leave that out.</param>
    public static Survey Of(TemperatureTrace trace, DateTimeZone zone, bool isStale = false, LocalDate? today = null)
    {
        var hours = HourlyMeans.Of(trace, zone);
        if (today is { } day && SurveyWeek.MondayOf(day) is var monday && SurveyWeek.Of(hours, monday, zone) is { } week)
        {
            isStale |= SurveyRule.HasMovedAway(week, hours.Where(hour => hour.Date >= monday));
        }

        return new(trace, hours, HourOfDayProfile.From(hours, zone), SurveyGrid.Of(trace, zone), isStale);
    }

    /// <summary>Whether the spot has left this survey by the end of the hours after it: the rule of the watch, by its usual limits
    /// (docs/alerts.md, survey stale).</summary>
    /// <param name="after">Hourly means after the survey, in order of time, of the same zone.</param>
    public bool HasMovedAway(IReadOnlyList<HourlyMean> after) => SurveyRule.HasMovedAway(Usual, after);

    private static double MeanOver(TemperatureTrace trace, Func<TraceOrigin?, double> value)
    {
        var whole = trace.MeasuredTime.TotalHours;
        return whole <= 0
            ? 0
            : trace.Stretches.Sum(stretch => (stretch.End - stretch.Start).TotalHours * value(stretch.Origin)) / whole;
    }

    private static double Trusted(TraceOrigin? origin) =>
        (origin?.Measurand switch { Measurand.Media => 1, Measurand.OutsideSurface => 0.85, _ => 0.7 }) * (
            origin?.Calibrated == true ? 1 : 0.8);
}

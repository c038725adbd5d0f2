using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>A spot as the pages show it.</summary>
/// <param name="Now">How it is and what stands there.</param>
/// <param name="Survey">Its last days.</param>
/// <param name="Day">The last day as a small picture.</param>
/// <param name="HeardAt">When a probe on it spoke last; null for never.</param>
/// <param name="IsSilent">Whether its probes should have spoken since.</param>
/// <param name="Ranked">How well it serves the chosen crop; null without one.</param>
public sealed record SpotView(SpotNowAnswer Now, Survey Survey, DaySketch Day, Instant? HeardAt, bool IsSilent, RankedSpot? Ranked)
{
    private const double HoursToKnow = 7 * 24;
    private const double HoursToChoose = 72;

    /// <summary>What is known of moisture there, in words; null when nothing is, or in a list of spots.</summary>
    public string? Moisture { get; init; }

    public string Name => Now.Spot.Text;

    /// <summary>How people see it.</summary>
    public required string Title { get; init; }

    /// <summary>The coolest and the warmest hour of its usual day; empty when that is not known.</summary>
    internal string Usual(TemperatureScale scale) => Now is { Coolest: { } low, Warmest: { } high }
        ? $"Usually {(scale.Number(low) == scale.Number(high) ? scale.Show(low) : scale.Show(new TemperatureBand(low, high)))}."
        : string.Empty;

    /// <summary>What sort of spot it is, to begin a sentence with.</summary>
    public string KindWords => Choice.Words(Now.Kind) is var words ? char.ToUpperInvariant(words[0]) + words[1..] : string.Empty;

    /// <summary>Its own caution in one line; in full it stands where the spot is set up.</summary>
    public ShownCaution Caution => CautionRules.Repeated(Now.Kind);

    /// <summary>How far the survey has come on its way to seven days, percent.</summary>
    public int Progress => (int)Math.Min(100, 100 * Now.MeasuredHours / HoursToKnow);

    public string ProgressWords => Now.Survey switch
    {
        _ when Now.MeasuredHours <= 0 && HeardAt is not null => "The survey has begun: its first reading is there.",
        _ when Now.MeasuredHours <= 0 => "Not surveyed yet: put a probe there, or read a thermometer.",
        SurveyStage.Provisional =>
            $"Surveyed {RangeText.Day(Now.MeasuredHours / 24)} of {HoursToChoose / 24} days: too early to choose by.",
        SurveyStage.Usable => $"Surveyed {RangeText.Day(Now.MeasuredHours / 24)} of {HoursToKnow / 24} days: good enough to choose by.",
        SurveyStage.Stale => "It is no longer as it was surveyed: survey it again.",
        _ => $"Surveyed {RangeText.Day(Now.MeasuredHours / 24)} days: well known.",
    };
}

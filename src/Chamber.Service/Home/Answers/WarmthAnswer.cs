using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>What <c>warmth</c> is asked.</summary>
/// <param name="Crop">The crop.</param>
/// <param name="Trace">The temperature.</param>
/// <param name="When">From when to when; null is all of the trace.</param>
/// <param name="Where">For a sentence.</param>
/// <param name="Refused">Lines of a file that are not used.</param>
internal sealed record WarmthAsked(Crop Crop, TemperatureTrace Trace, Interval? When, string Where, IReadOnlyList<Refusal> Refused)
{
    /// <summary>What half of it needs: as the home has taught, otherwise as in the tables.</summary>
    public WarmHours Half { get; init; } = Crop.Profile.HalfWarmHours;
}

/// <summary>Warm-hours for programs. The first six names are relied on by others.</summary>
internal sealed record WarmthAnswer(
    WarmHours WarmHours,
    double MeasuredHours,
    double EstimatedHours,
    double UnknownHours,
    double HoursBelow,
    double HoursAbove,
    WarmHours MeasuredWarmHours,
    WarmHours EstimatedWarmHours,
    CropId Crop,
    int RefusedLines,
    IReadOnlyList<WarmthDayAnswer> Days)
{
    public static WarmthAnswer Of(WarmthAsked asked, WarmthReport report) => new(
        report.Total.Measured + report.Total.Estimated,
        report.Total.MeasuredTime.TotalHours,
        report.Total.EstimatedTime.TotalHours,
        report.Total.UnknownTime.TotalHours,
        report.Total.HoursBelow,
        report.Total.HoursAbove,
        report.Total.Measured,
        report.Total.Estimated,
        asked.Crop.Id,
        asked.Refused.Count,
        [.. report.Days.Select(day => new WarmthDayAnswer(
            day.Date,
            day.Sum.Measured + day.Sum.Estimated,
            day.Sum.MeasuredTime.TotalHours,
            day.Sum.EstimatedTime.TotalHours,
            day.Sum.UnknownTime.TotalHours))]);
}

/// <summary>One local day of them.</summary>
internal sealed record WarmthDayAnswer(LocalDate Date, WarmHours WarmHours, double MeasuredHours, double EstimatedHours,
    double UnknownHours);

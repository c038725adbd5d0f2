using Chamber.Core.Forecasts;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>A share of the seeds sown, 0 to 1.</summary>
internal sealed record StandAnswer(double Low, double Mid, double High)
{
    public static StandAnswer Of(ShareInterval stand) => new(stand.Low, stand.Mid, stand.High);
}

/// <summary>Days; null where ten years are not enough.</summary>
internal sealed record DaysAnswer(double? Low, double? Mid, double? High)
{
    public static DaysAnswer Of(TimeEstimate time) => new(Days(time.Low), Days(time.Mid), Days(time.High));

    private static double? Days(Duration? duration) => duration?.TotalDays;
}

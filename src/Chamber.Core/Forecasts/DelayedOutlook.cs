namespace Chamber.Core.Forecasts;

/// <summary>Warm-hours that begin after a time in which seed sleeps.</summary>
/// <param name="delayHours">How long it sleeps from now on, hours, 0 or more.</param>
/// <param name="after">What is to come from then on.</param>
internal sealed class DelayedOutlook(double delayHours, WarmthOutlook after) : WarmthOutlook(after.Courses)
{
    internal override double Added(int course, double hours) => after.Added(course, Math.Max(0, hours - delayHours));
}

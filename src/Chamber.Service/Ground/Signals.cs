using System.Diagnostics;
using System.Diagnostics.Metrics;

namespace Chamber.Service.Ground;

/// <summary>
/// What the running service measures of itself as it happens, and the spans of its work. While nobody listens a histogram takes
/// nothing in and no span is made.
/// </summary>
internal static class Signals
{
    /// <summary>The name of the meter and of the source of spans.</summary>
    public const string Name = "Chamber";

    public const string CommitTimeName = "chamber.commit.duration";
    public const string LagName = "chamber.lag";
    public const string FoldTimeName = "chamber.fold.duration";
    public const string AlertsOpenedName = "chamber.alerts.opened";
    public const string MergedName = "chamber.readings.merged";
    public const string NoticesName = "chamber.notices.tried";

    private static readonly Meter Meter = new(Name);

    // From a fast flush to a disk in trouble, and from an instant to a sensor that was away for a day.
    private static readonly InstrumentAdvice<double> Short =
        new() { HistogramBucketBoundaries = [0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10] };
    private static readonly InstrumentAdvice<double> Long =
        new() { HistogramBucketBoundaries = [0.01, 0.05, 0.1, 0.5, 1, 5, 30, 60, 300, 3600, 86400] };

    public static ActivitySource Spans { get; } = new(Name);

    public static Histogram<double> CommitTime { get; } =
        Meter.CreateHistogram<double>(CommitTimeName, "s", "Time to commit a batch of readings, flush included.", tags: null, Short);

    public static Histogram<double> Lag { get; } = Meter.CreateHistogram<double>(LagName, "s",
        "From the arrival of the oldest message of a commit until it is stored.", tags: null, Long);

    public static Histogram<double> FoldTime { get; } =
        Meter.CreateHistogram<double>(FoldTimeName, "s", "Time to fold what was committed into the watch.", tags: null, Short);

    public static Counter<long> AlertsOpened { get; } =
        Meter.CreateCounter<long>(AlertsOpenedName, "{alert}", "Alerts opened or worsened, by condition and severity.");

    public static Counter<long> Notices { get; } =
        Meter.CreateCounter<long>(NoticesName, "{notice}", "Notices tried, by channel and outcome.");

    public static Counter<long> Merged { get; } = Meter.CreateCounter<long>(MergedName, "{reading}",
        "Readings of a probe and a millisecond that was there before: what they lacked was filled in, or they said nothing new.");

    /// <summary>Now, for <see cref="Since"/>; costs nothing while nobody listens.</summary>
    public static long Begin(Instrument instrument, TimeProvider clock) => instrument.Enabled ? clock.GetTimestamp() : 0;

    /// <summary>Records how long it took, in seconds.</summary>
    public static void Since(Histogram<double> histogram, long begun, TimeProvider clock)
    {
        if (begun != 0)
        {
            histogram.Record(clock.GetElapsedTime(begun).TotalSeconds);
        }
    }
}

using System.Diagnostics.Metrics;

namespace Chamber.Club.Telemetry;

/// <summary>What processes of a club count, for whoever scrapes them: how much, how soon and how many, and nothing of any one home. Each
/// process gives all of it; what it does not do stays 0.</summary>
internal static class ClubSignals
{
    public const string Name = "Chamber.Club";

    private static readonly Meter Meter = new(Name);

    private static readonly InstrumentAdvice<double> Times =
        new() { HistogramBucketBoundaries = [0.001, 0.005, 0.01, 0.05, 0.1, 0.25, 0.5, 1, 2, 5, 10, 30, 60, 300] };

    private static readonly Tally ClubAway = Gauge("chamber.club.database.away", "1 while the database does not answer, else 0.");

    // Made with the class, so that they are there from the first scrape on.
    public static readonly Tally Messages = Counter("chamber.club.messages", "{message}", "Messages whose readings and refusals are kept.");
    public static readonly Tally Readings = Counter("chamber.club.readings", "{reading}", "Readings that were new in the database.");
    public static readonly Tally Refusals = Counter("chamber.club.refusals", "{refusal}", "What was not used.");
    public static readonly Tally Strangers = Counter("chamber.club.strangers", "{message}", "Messages under no home's branch, let go.");
    public static readonly Tally CommitFailures = Counter("chamber.club.commit.failures", "{commit}", "Commits that were tried again.");
    public static readonly Tally Slots = Gauge("chamber.club.slots.held", "Slots of the intake that this process holds, 0 or 1.");
    public static readonly Tally Homes = Gauge("chamber.club.homes.active", "Homes that this silo watches.");
    public static readonly Tally LookFailures = Counter("chamber.club.look.failures", "{look}", "Looks at a home that could not be done.");
    public static readonly Tally Alerts = Counter("chamber.club.alerts.told", "{alert}", "Alerts told for the first time.");
    public static readonly Tally Outbox = Gauge("chamber.club.outbox.waiting", "Notices that wait in the outboxes of this silo's homes.");
    public static readonly Tally Sent = Counter("chamber.club.notices.sent", "{notice}", "Notices that a mail server has taken.");
    public static readonly Tally NotSent = Counter("chamber.club.notices.failed", "{notice}", "Tries to send a notice that failed.");
    public static readonly Tally Learned = Gauge("chamber.club.learned.homes", "Homes whose batches what is learned here comes from.");

    public static readonly Histogram<double> CommitTime = Meter.CreateHistogram<double>(
        "chamber.club.commit.duration", "s", "Time to decode and commit what had come in.", tags: null, Times);

    /// <summary>How long a sensor waits to be told that its reading is safe.</summary>
    public static readonly Histogram<double> AcknowledgeTime = Meter.CreateHistogram<double>("chamber.club.acknowledge.duration", "s",
        "From the arrival of the oldest message of a commit until it is acknowledged.", tags: null, Times);

    public static readonly Histogram<double> LookTime = Meter.CreateHistogram<double>(
        "chamber.club.look.duration", "s", "Time that a look at what is new of a home takes.", tags: null, Times);

    /// <summary>Whether the database has answered this process when it was asked last.</summary>
    public static void NoteDatabase(bool isAway) => ClubAway.Set(isAway ? 1 : 0);

    private static Tally Counter(string name, string unit, string words)
    {
        var tally = new Tally();
        Meter.CreateObservableCounter(name, () => tally.Value, unit, words);
        return tally;
    }

    private static Tally Gauge(string name, string words)
    {
        var tally = new Tally();
        Meter.CreateObservableGauge(name, () => tally.Value, null, words);
        return tally;
    }
}

/// <summary>A number that any thread may change.</summary>
internal sealed class Tally
{
    private long value;

    public long Value => Interlocked.Read(ref value);

    public void Add(long more) => Interlocked.Add(ref value, more);

    public void Set(long to) => Interlocked.Exchange(ref value, to);
}

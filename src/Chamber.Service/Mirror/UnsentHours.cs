using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>
/// What is folded from the readings, once an hour on the hour: where probes and batches stand, warm-hours, suitability and
/// forecasts. An hour is sent when ten minutes of the next have passed, so that readings on their way are in. Who came or went is sent
/// as soon as it is written down.
/// </summary>
internal sealed class UnsentHours(ChamberStore store, Func<HomeReader> home)
{
    private const int HoursPerStep = 7 * 24;
    private static readonly Duration Settling = Duration.FromMinutes(10);

    /// <summary>Sends warm-hours again from the first hour that late readings touch.</summary>
    public static MirrorCursor Rewound(MirrorCursor cursor, IReadOnlyList<Reading> readings)
    {
        if (readings.Count == 0 || cursor.WarmthHours is not { } sent || readings.Min(reading => reading.MeasuredAt) is var first
            && first.ToUnixTimeMilliseconds() >= sent)
        {
            return cursor;
        }

        return cursor with { WarmthHours = Hour(first).ToUnixTimeMilliseconds() };
    }

    /// <summary>Sends everything again from the first hour of which readings count otherwise now: they were set aside, something stood
    /// elsewhere, or a probe's error was found, and whatever of that was corrected or taken back.</summary>
    private static MirrorCursor Amended(MirrorCursor cursor, long last, IEnumerable<DatedFact> news)
    {
        var first = news.Where(fact => IsOfHours(fact.Fact)).Select(fact => (long?)Hour(fact.At).ToUnixTimeMilliseconds()).Min();
        return cursor with
        {
            Facts = last,
            Hours = first < cursor.Hours ? first : cursor.Hours,
            WarmthHours = first < cursor.WarmthHours ? first : cursor.WarmthHours,
        };
    }

    // What was written down since the last step, and of an amendment what it amends.
    private List<DatedFact> News(MirrorCursor cursor)
    {
        var added = cursor.Facts is { } seen ? store.Facts.Since(seen) : [];
        var log = added.Any(entry => entry.Fact is Withdrawn or Corrected) ? store.Facts.Log() : null;
        return [.. added.SelectMany(entry => Concerned(entry, log))];
    }

    private static bool IsOfHours(Fact fact) => fact is ReadingsSetAside or ProbeCalibrated or ProbePlaced or ProbeTakenAway or ProbeStood
        or BatchSown or BatchMoved or BatchStood or BatchEnded;

    // What a fact says of who stands where.
    private static (Measurement, string, string)? Said(Fact fact) => fact switch
    {
        ProbePlaced placed => (Measurements.Station, placed.Probe.Text, placed.Spot.Text),
        ProbeStood stood => (Measurements.Station, stood.Probe.Text, stood.Spot.Text),
        BatchMoved moved => (Measurements.Stay, moved.Batch.Text, moved.Spot.Text),
        BatchStood stood => (Measurements.Stay, stood.Batch.Text, stood.Spot.Text),
        _ => null,
    };

    // What an entry says, and of an amendment what it amends.
    private static IEnumerable<DatedFact> Concerned(FactEntry entry, FactLog? log) => entry.Fact switch
    {
        Withdrawn { Entry: var gone } => log?.Find(gone) is { } wrong ? Concerned(wrong, log).Append(log.RightOf(wrong)) : [],
        Corrected { Entry: var old, Right: var right } =>
            [right.At(entry.At), .. log?.Find(old) is { } wrong ? Concerned(wrong, log) : []],
        var fact => [fact.At(entry.At)],
    };

    public (IReadOnlyList<string> Lines, MirrorCursor Then) Next(MirrorCursor cursor, Instant now, MirrorSettings settings)
    {
        var last = store.Facts.Last;
        var limit = Limit(now);
        var lines = new List<string>();
        var folds = new Lazy<HourlyFolds>(() => new(home(), now, settings.Home));
        if (cursor.Facts != last)
        {
            var news = News(cursor);
            cursor = Amended(cursor, last, news);

            // Who stands where is known at once; what rests on readings waits for the end of its hour.
            folds.Value.AddMoves(limit, now, lines);
            folds.Value.AddAbsences(news.Select(fact => Said(fact.Fact)).OfType<(Measurement, string, string)>().Distinct(), lines);
        }

        if ((cursor.Hours ?? Beginning(store)) is not { } begun
            || (begun >= limit.ToUnixTimeMilliseconds() && cursor.WarmthHours >= limit.ToUnixTimeMilliseconds()))
        {
            return (lines, cursor);
        }

        var hours = Walk(begun, limit, lines, settings.BatchLines, folds.Value.AddPlacesAndForecasts);
        var warmth = Walk(cursor.WarmthHours ?? begun, limit, lines, settings.BatchLines, folds.Value.AddWarmth);
        return (lines, cursor with { Hours = hours, WarmthHours = warmth });
    }

    internal static Instant Hour(Instant at) =>
        Instant.FromUnixTimeSeconds(at.ToUnixTimeSeconds() / NodaConstants.SecondsPerHour * NodaConstants.SecondsPerHour);

    private static long Walk(long from, Instant limit, List<string> lines, int linesMax, Action<Instant, List<string>> add)
    {
        var at = Instant.FromUnixTimeMilliseconds(from);
        for (var step = 0; step < HoursPerStep && at < limit && lines.Count < linesMax; step++)
        {
            at += Duration.FromHours(1);
            add(at, lines);
        }

        return at.ToUnixTimeMilliseconds();
    }

    /// <summary>So many hours that have passed are not sent yet.</summary>
    public static long Remaining(ChamberStore store, MirrorCursor cursor, Instant now)
    {
        var told = cursor is { Hours: { } hours, WarmthHours: { } warmth } ? Math.Min(hours, warmth) : Beginning(store);
        return told is { } at ? Math.Max(0, (Limit(now).ToUnixTimeMilliseconds() - at) / NodaConstants.MillisecondsPerHour) : 0;
    }

    private static Instant Limit(Instant now) => Hour(now - Settling);

    private static long? Beginning(ChamberStore store) =>
        store.Journal.Unread(JournalMark.Beginning).Oldest is { } first ? Hour(first).ToUnixTimeMilliseconds() : null;
}

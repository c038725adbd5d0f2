using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>
/// What is folded from the readings, once an hour on the hour: where probes and batches stand, warm-hours, suitability and
/// forecasts. An hour is sent when ten minutes of the next have passed, so that readings on their way are in.
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

    /// <summary>Sends everything again from the first hour of which readings count otherwise now: they were set aside, a probe stood
    /// elsewhere, or its error was found, and whatever of that was corrected or taken back.</summary>
    private MirrorCursor Amended(MirrorCursor cursor)
    {
        var last = store.Facts.Last;
        if (cursor.Facts == last)
        {
            return cursor;
        }

        var added = cursor.Facts is { } seen ? store.Facts.Since(seen) : [];
        var log = added.Any(entry => entry.Fact is Withdrawn or Corrected) ? store.Facts.Log() : null;
        var first = added.SelectMany(entry => Concerned(entry, log)).Where(fact => IsOfReadings(fact.Fact))
            .Select(fact => (long?)Hour(fact.At).ToUnixTimeMilliseconds()).Min();
        return cursor with
        {
            Facts = last,
            Hours = first < cursor.Hours ? first : cursor.Hours,
            WarmthHours = first < cursor.WarmthHours ? first : cursor.WarmthHours,
        };
    }

    private static bool IsOfReadings(Fact fact) =>
        fact is ReadingsSetAside or ProbeCalibrated or ProbePlaced or ProbeTakenAway or ProbeStood;

    // What an entry says, and of an amendment what it amends.
    private static IEnumerable<DatedFact> Concerned(FactEntry entry, FactLog? log) => entry.Fact switch
    {
        Withdrawn { Entry: var gone } => log?.Find(gone) is { } wrong ? Concerned(wrong, log).Append(log.RightOf(wrong)) : [],
        Corrected { Entry: var old, Right: var right } =>
            [right.At(entry.At), .. log?.Find(old) is { } wrong ? Concerned(wrong, log) : []],
        var fact => [fact.At(entry.At)],
    };

    public (IReadOnlyList<string> Lines, MirrorCursor Then) Next(MirrorCursor cursor, Instant now, int linesMax)
    {
        cursor = Amended(cursor);
        var limit = Limit(now);
        if ((cursor.Hours ?? Beginning(store)) is not { } begun
            || (begun >= limit.ToUnixTimeMilliseconds() && cursor.WarmthHours >= limit.ToUnixTimeMilliseconds()))
        {
            return ([], cursor);
        }

        var lines = new List<string>();
        var folds = new HourlyFolds(home(), now);
        var hours = Walk(begun, limit, lines, linesMax, folds.AddPlacesAndForecasts);
        var warmth = Walk(cursor.WarmthHours ?? begun, limit, lines, linesMax, folds.AddWarmth);
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

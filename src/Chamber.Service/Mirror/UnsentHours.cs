using Chamber.Core.Climate;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>
/// What is folded from the readings, once an hour on the hour: where probes and batches stand, warm-hours, suitability and
/// forecasts. An hour is sent when ten minutes of the next have passed, so that readings on their way are in.
/// </summary>
internal sealed class UnsentHours(Func<HomeReader> home)
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

    public (IReadOnlyList<string> Lines, MirrorCursor Then) Next(MirrorCursor cursor, Instant now, int linesMax)
    {
        var limit = Limit(now);
        if ((cursor.Hours ?? Beginning(home().Store)) is not { } begun
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

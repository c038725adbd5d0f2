using Chamber.Core.Facts;
using Chamber.Service.Home.Writing;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>The entries of one day, the newest first.</summary>
internal sealed record HistoryDay(LocalDate Day, IReadOnlyList<HistoryRow> Lines);

/// <summary>An entry as the page shows it.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Time">The time of day.</param>
/// <param name="What">What happened.</param>
/// <param name="By">Who wrote it, by which way, and the other time where it differs.</param>
/// <param name="Standing">That it no longer counts as it was written; null when it does.</param>
internal sealed record HistoryRow(long Number, string Time, string What, string By, string? Standing);

/// <summary>Histories for the page: of one thing by when it happened, of the home by when it was written down.</summary>
internal static class HistoryView
{
    // Whoever writes at once takes a moment all the same.
    private static readonly Duration AtOnce = Duration.FromMinutes(10);

    public static (IReadOnlyList<HistoryDay> Days, int Left) Days(PageHome page, IReadOnlyList<HistoryLine> all, bool byWriting, int count)
    {
        var newest = (byWriting ? all.Reverse() : all.OrderByDescending(line => line.At).ThenByDescending(line => line.Number)).ToList();
        var days = newest.Take(count)
            .GroupBy(line => (byWriting ? line.WrittenAt : line.At).InZone(page.Zone).Date)
            .Select(day => new HistoryDay(day.Key, [.. day.Select(line => Row(page, line, byWriting))]));
        return ([.. days], Math.Max(0, newest.Count - count));
    }

    /// <summary>Who, and by which way: <c>by Ana, page</c>; without a name <c>at this machine, page</c>.</summary>
    public static string By(HistoryLine line) => line.By.Length == 0 ? $"by {Choice.Words(line.Way)}"
        : $"{(line.By.StartsWith("at ", StringComparison.Ordinal) ? "" : "by ")}{line.By}, {Choice.Words(line.Way)}";

    /// <summary>That an entry no longer counts as it was written; null when it does.</summary>
    public static string? Standing(HistoryLine line) => line.Standing == EntryStanding.Counts ? null : Choice.Words(line.Standing);

    /// <summary>Where a thing has its page; null where it has none.</summary>
    public static string? PageOf(FactSubject? subject) => subject is not { } thing ? null : thing.Kind switch
    {
        FactSubjectKind.Batch => $"batches/{thing.Name}",
        FactSubjectKind.Spot => $"spots/{thing.Name}",
        FactSubjectKind.Lot => $"seeds/lots/{thing.Name}",
        FactSubjectKind.Probe => "set-up/probes",
        _ => null,
    };

    private static HistoryRow Row(PageHome page, HistoryLine line, bool byWriting)
    {
        var (shown, other) = byWriting ? (line.WrittenAt, line.At) : (line.At, line.WrittenAt);
        var differs = shown - other > AtOnce || other - shown > AtOnce;
        var also = !differs ? "" : byWriting ? $"for {page.Show(other)}, " : "";
        var after = differs && !byWriting ? $", written down {page.Show(other)}" : "";
        return new(
            line.Number, shown.InZone(page.Zone).ToString("HH:mm", null), line.What, $"{also}{By(line)}{after}", Standing(line));
    }
}

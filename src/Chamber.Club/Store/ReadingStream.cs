using Chamber.Core.Climate;
using Chamber.Storage.Readings;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>The readings of one probe in an interval, with the points of its level stretches, in order of time, as they are on one state of
/// the database.</summary>
internal sealed class ReadingStream : IAsyncDisposable
{
    // A task for each reading cost more than the reading.
    private const int PageMax = 512;

    private const string Single =
        $"""
        SELECT {ReadingRow.Columns} FROM reading
        WHERE home = $1 AND probe = ({ProbeRows.KeyByName}) AND at >= $3 AND at < $4 ORDER BY at
        """;

    private const string Rolled =
        $"""
        SELECT at, at, 0::smallint, temperature, humidity, moisture, battery, span FROM rolled
        WHERE home = $1 AND probe = ({ProbeRows.KeyByName}) AND at > $3 AND at < $4 ORDER BY at
        """;

    private readonly HomeSession session;
    private readonly ProbeId probe;
    private readonly Queue<Reading> rolled;
    private readonly HomeAnswers rows;
    private readonly CancellationToken cancel;
    private Reading? next;

    private ReadingStream(HomeSession session, ProbeId probe, Queue<Reading> rolled, HomeAnswers rows, CancellationToken cancel) =>
        (this.session, this.probe, this.rolled, this.rows, this.cancel) = (session, probe, rolled, rows, cancel);

    public static async Task<ReadingStream> OpenAsync(
        ClubDatabase database, int home, ProbeId probe, Interval interval, CancellationToken cancel)
    {
        var session = await database.OpenStillAsync(home, cancel);
        HomeAnswers? rows = null;
        try
        {
            var range = ReadingTimes.Range(interval);
            rows = await session.AskAsync(
                HomeSession.Question(Rolled, home, probe.Text, range.From - Duration.FromMilliseconds(Stretch.LengthMax), range.To),
                HomeSession.Question(Single, home, probe.Text, range.From, range.To));
            var stretches = await rows.AllAsync(row => (First: ReadingRow.Read(row, probe), Span: row.GetInt32(7)));
            var stream = new ReadingStream(session, probe, Points(stretches, range), rows, cancel);
            await stream.StepAsync();
            return stream;
        }
        catch
        {
            await (rows?.DisposeAsync() ?? default);
            await session.DisposeAsync();
            throw;
        }
    }

    /// <summary>The next readings, some hundreds at most; none at the end.</summary>
    public async Task<List<Reading>> NextAsync()
    {
        cancel.ThrowIfCancellationRequested();
        var page = new List<Reading>();
        while (page.Count < PageMax && (next is not null || rolled.Count > 0))
        {
            if (rolled.TryPeek(out var point) && (next is not { } reading || point.MeasuredAt <= reading.MeasuredAt))
            {
                page.Add(rolled.Dequeue());
            }
            else
            {
                page.Add(next!.Value);
                await StepAsync();
            }
        }

        return page;
    }

    public async ValueTask DisposeAsync()
    {
        await rows.DisposeAsync();
        await session.DisposeAsync();
    }

    private async ValueTask StepAsync() => next = await rows.NextAsync(row => ReadingRow.Read(row, probe));

    // A stretch is read back as points close enough for a short gap.
    private static Queue<Reading> Points(List<(Reading First, int Span)> stretches, (Instant From, Instant To) range) =>
        new(stretches.SelectMany(one => Stretch.Points(one.Span).Select(after => Moved(one.First, after)))
            .Where(point => point.MeasuredAt >= range.From && point.MeasuredAt < range.To));

    private static Reading Moved(Reading first, long milliseconds)
    {
        var at = first.MeasuredAt + Duration.FromMilliseconds(milliseconds);
        return first with { MeasuredAt = at, ReceivedAt = at };
    }
}

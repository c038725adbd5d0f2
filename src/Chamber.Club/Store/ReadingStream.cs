using Chamber.Core.Climate;
using Chamber.Storage.Readings;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>The readings of one probe in an interval, with the points of its level stretches, in order of time, as they are on one state of
/// the database.</summary>
internal sealed class ReadingStream : IAsyncDisposable
{
    // A task for each reading cost more than the reading.
    private const int PageMax = 512;

    private readonly HomeSession session;
    private readonly ProbeId probe;
    private readonly Queue<Reading> rolled;
    private readonly NpgsqlCommand command;
    private readonly NpgsqlDataReader rows;
    private readonly CancellationToken cancel;
    private Reading? next;

    private ReadingStream(HomeSession session, ProbeId probe, Queue<Reading> rolled, NpgsqlCommand command, NpgsqlDataReader rows,
        CancellationToken cancel)
    {
        (this.session, this.probe, this.rolled, this.command, this.rows, this.cancel) = (session, probe, rolled, command, rows, cancel);
    }

    public static async Task<ReadingStream> OpenAsync(
        ClubDatabase database, int home, ProbeId probe, Interval interval, CancellationToken cancel)
    {
        var session = await database.OpenStillAsync(home, cancel);
        try
        {
            var key = await ProbeRows.FindAsync(session, home, probe) ?? 0;
            var (from, to) = ReadingTimes.Range(interval);
            var rolled = await RolledAsync(session, (home, key), probe, (from, to));
            var command = session.Command(
                $"SELECT {ReadingRow.Columns} FROM reading WHERE home = $1 AND probe = $2 AND at >= $3 AND at < $4 ORDER BY at",
                home, key, from, to);
            var rows = await command.ExecuteReaderAsync(cancel);
            var stream = new ReadingStream(session, probe, rolled, command, rows, cancel);
            await stream.StepAsync();
            return stream;
        }
        catch
        {
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
        // Whoever leaves early does not wait for the rest.
        command.Cancel();
        await rows.DisposeAsync();
        await command.DisposeAsync();
        await session.DisposeAsync();
    }

    private async ValueTask StepAsync() => next = await rows.ReadAsync(cancel) ? ReadingRow.Read(rows, probe) : null;

    // A stretch is read back as points close enough for a short gap.
    private static async Task<Queue<Reading>> RolledAsync(
        HomeSession session, (int Home, int Probe) key, ProbeId probe, (Instant From, Instant To) range)
    {
        var stretches = await session.RowsAsync(
            """
            SELECT at, at, 0::smallint, temperature, humidity, moisture, battery, span FROM rolled
            WHERE home = $1 AND probe = $2 AND at > $3 AND at < $4 ORDER BY at
            """,
            row => (First: ReadingRow.Read(row, probe), Span: row.GetInt32(7)),
            key.Home, key.Probe, range.From - Duration.FromMilliseconds(Stretch.LengthMax), range.To);
        return new(stretches.SelectMany(one => Stretch.Points(one.Span).Select(after => Moved(one.First, after)))
            .Where(point => point.MeasuredAt >= range.From && point.MeasuredAt < range.To));
    }

    private static Reading Moved(Reading first, long milliseconds)
    {
        var at = first.MeasuredAt + Duration.FromMilliseconds(milliseconds);
        return first with { MeasuredAt = at, ReceivedAt = at };
    }
}

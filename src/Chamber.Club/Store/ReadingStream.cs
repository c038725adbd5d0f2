using Chamber.Core.Climate;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>The readings of one probe in an interval, in order of time, as they are on one state of the database.</summary>
internal sealed class ReadingStream : IAsyncDisposable
{
    private readonly HomeSession session;
    private readonly ProbeId probe;
    private readonly NpgsqlCommand command;
    private readonly NpgsqlDataReader rows;
    private readonly CancellationToken cancel;

    private ReadingStream(HomeSession session, ProbeId probe, NpgsqlCommand command, NpgsqlDataReader rows, CancellationToken cancel)
    {
        this.session = session;
        this.probe = probe;
        this.command = command;
        this.rows = rows;
        this.cancel = cancel;
    }

    public static async Task<ReadingStream> OpenAsync(
        ClubDatabase database, int home, ProbeId probe, Interval interval, CancellationToken cancel)
    {
        var session = await database.OpenAsync(home, cancel);
        try
        {
            var key = await ProbeRows.FindAsync(session, home, probe);
            var (from, to) = ReadingTimes.Range(interval);
            var command = session.Command(
                $"SELECT {ReadingRow.Columns} FROM reading WHERE home = $1 AND probe = $2 AND at >= $3 AND at < $4 ORDER BY at",
                home, key ?? 0, from, to);
            return new(session, probe, command, await command.ExecuteReaderAsync(cancel), cancel);
        }
        catch
        {
            await session.DisposeAsync();
            throw;
        }
    }

    public async Task<Reading?> NextAsync()
    {
        cancel.ThrowIfCancellationRequested();
        return await rows.ReadAsync(cancel) ? ReadingRow.Read(rows, probe) : null;
    }

    public async ValueTask DisposeAsync()
    {
        // Whoever leaves early does not wait for the rest.
        command.Cancel();
        await rows.DisposeAsync();
        await command.DisposeAsync();
        await session.DisposeAsync();
    }
}

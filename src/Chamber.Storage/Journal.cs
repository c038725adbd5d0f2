using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Chamber.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage;

/// <summary>
/// Everything that was measured, each reading once, and everything that was refused. A reading is identified by its probe
/// and the millisecond in which it was measured; times come back cut to the millisecond.
/// </summary>
public sealed class Journal : IDisposable
{
    private const int BufferLength = 512;

    private readonly Database database;
    private readonly Lock appending = new();
    private Appender? appender;

    internal Journal(Database database) => this.database = database;

    /// <summary>Takes in readings and refusals in one transaction: when this returns, all of them are committed.</summary>
    /// <param name="readings">In any order; an empty one is counted as a duplicate.</param>
    /// <param name="refusals">What was not used.</param>
    /// <param name="lastKnown">Values of unknown age, shown as last known and never integrated.</param>
    /// <exception cref="StoreException">Nothing was taken in.</exception>
    public AppendResult Append(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals, IReadOnlyList<Reading>? lastKnown = null)
    {
        lock (appending)
        {
            return database.Write(connection => Append(connection, readings, refusals, lastKnown ?? []));
        }
    }

    /// <summary>Marks the readings of a time whose arrival dates them: the clock was wrong then, or nobody knows.</summary>
    /// <param name="when">The time by that clock.</param>
    /// <param name="mark">As what they are marked.</param>
    /// <returns>How many were marked.</returns>
    public int Doubt(Interval when, ClockSource mark) => database.Write(connection => Keys(connection).Sum(probe => connection.Execute(
        "UPDATE reading SET clock = ?1 WHERE probe = ?2 AND at >= ?3 AND at < ?4 AND clock = ?5", (long)mark, probe.Key,
        when.Start.ToUnixTimeMilliseconds(), when.HasEnd ? when.End.ToUnixTimeMilliseconds() : KeptQuantities.End,
        (long)ClockSource.Arrival)));

    /// <summary>The readings of one probe in an interval, in order of time; those that were set aside are passed over.</summary>
    public IEnumerable<Reading> Read(ProbeId probe, Interval interval) =>
        Used(probe, interval, RowReaders.Whole(probe, Kept(probe)));

    /// <summary>The same with those that were set aside, as for a copy of everything.</summary>
    public IEnumerable<Reading> ReadAll(ProbeId probe, Interval interval) =>
        Walk(probe, interval, RowReaders.Whole(probe, Kept(probe)));

    /// <summary>The temperatures of the same, some hundreds at a time; each part is good until the next is asked for.</summary>
    /// <param name="probe">Whose, by its present name.</param>
    /// <param name="interval">From when on, up to and without when.</param>
    /// <param name="receivedBy">Only those received by then; a stretch that was rolled up counts as received when it was measured.</param>
    internal IEnumerable<ReadOnlyMemory<TemperatureSample>> TemperaturesInParts(ProbeId probe, Interval interval, Instant? receivedBy) =>
        Parts(probe, interval, RowReaders.Temperatures(Kept(probe), receivedBy));

    /// <summary>The temperatures of one probe in an interval, in order of time. Several times faster than <see cref="Read"/>.</summary>
    public IEnumerable<TemperatureSample> ReadTemperatures(ProbeId probe, Interval interval) =>
        Used(probe, interval, RowReaders.Temperatures(Kept(probe)));

    /// <summary>The newest of each quantity of every probe that has spoken; what was set aside is passed over. What lies more than a
    /// quarter of an hour ahead waits until its time has come: it was dated by a clock that ran ahead.</summary>
    public IReadOnlyList<LatestReading> Latest(Instant now) => database.Read(connection =>
    {
        using var query = new LatestQuery(connection, now);
        return Keys(connection).Select(probe => query.Of(probe.Key, probe.Id, Kept(probe.Id))).OfType<LatestReading>().ToList();
    });

    /// <summary>The same of one probe, or null when it has never spoken.</summary>
    public LatestReading? Latest(ProbeId probe, Instant now) => database.Read(connection =>
    {
        using var query = new LatestQuery(connection, now);
        return ProbeKeys.Find(connection, probe) is { } key ? query.Of(key, probe, Kept(probe)) : null;
    });

    /// <summary>Values of unknown age, the newest of each probe: what a broker had retained without a time.</summary>
    public IReadOnlyList<Reading> LastKnown() => database.Read(connection => LastKnownRows.All(connection, Kept));

    /// <summary>Every probe that has ever spoken, set up or not.</summary>
    public IReadOnlyList<ProbeId> Probes() => database.Read(connection => Keys(connection).ConvertAll(probe => probe.Id));

    /// <summary>The refusals that are kept raw, newest first.</summary>
    public IReadOnlyList<Refusal> Refusals(int limit = 100) => database.Read(connection => RefusalRows.Newest(connection, limit));

    /// <summary>Takes over what was refused of another home. What is there already is passed over, so that it can be done again.</summary>
    /// <param name="counts">How often, by probe and reason.</param>
    /// <param name="refusals">Those that are kept raw, oldest first.</param>
    public void TakeOver(IReadOnlyList<RefusalCount> counts, IReadOnlyList<Refusal> refusals) => database.Write(connection =>
        RefusalWriter.TakeOver(connection, counts, refusals, database.Options.RefusalsMax));

    /// <summary>How often something was refused, by probe and reason.</summary>
    public IReadOnlyList<RefusalCount> RefusalCounts() => database.Read(RefusalRows.Counts);

    /// <summary>What has changed since a mark, whoever wrote it.</summary>
    public JournalChanges ChangesSince(JournalMark mark) => database.Read(connection => ChangeQuery.Since(connection, mark));

    /// <summary>How much somebody has not read yet who has come to a mark: rows that lie after it, and the time of the oldest of
    /// them.</summary>
    public (long Rows, Instant? Oldest) Unread(JournalMark mark) => database.Read(connection => ChangeQuery.Unread(connection, mark));

    /// <summary>How many rows the journal holds: readings, and stretches that stand for rolled-up ones.</summary>
    public (long Readings, long Rolled) Size() => database.Read(connection =>
        (connection.Whole("SELECT count(*) FROM reading"), connection.Whole("SELECT count(*) FROM rolled")));

    /// <summary>
    /// One pass of the roll-up: old readings that lie level for a quarter of an hour give way to one stretch. Holds the
    /// writer for as long as so many readings take, about a tenth of a second.
    /// </summary>
    /// <param name="olderThan">Readings from then on stay as they are.</param>
    /// <param name="readingsMax">So many are looked at before it stops.</param>
    public RollUpResult RollUp(Instant olderThan, int readingsMax = 20_000)
    {
        var result = database.Write(connection =>
        {
            using var pass = new RollUp(connection, olderThan.ToUnixTimeMilliseconds(), readingsMax);
            return pass.Pass();
        });
        database.Alone(connection => connection.Execute("PRAGMA incremental_vacuum(1000)"));
        return result;
    }

    public void Dispose()
    {
        appender?.Dispose();
        appender = null;
    }

    private KeptQuantities Kept(ProbeId probe) => new(database.LeftOut, probe);

    private static List<(long Key, ProbeId Id)> Keys(SqliteConnection connection) =>
        connection.Rows(row => (row.GetInt64(0), new ProbeId(row.GetString(1))), "SELECT key, id FROM probe ORDER BY id");

    private AppendResult Append(SqliteConnection connection, IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
        IReadOnlyList<Reading> lastKnown)
    {
        appender ??= new(connection, database.Options, database.LeftOut);
        var own = new List<Refusal>();
        var result = appender.Append(readings, own);
        RefusalWriter.Append(connection, own.Count == 0 ? refusals : [.. refusals, .. own], database.Options.RefusalsMax);
        appender.Keep(lastKnown);
        return result;
    }

    private IEnumerable<T> Used<T>(ProbeId probe, Interval interval, RowReader<T> rows)
        where T : struct
    {
        var spans = database.Read(connection => ProbeKeys.Find(connection, probe) is { } key
            ? connection.Rows(row => row.Stretch(0, 1), "SELECT start, end FROM set_aside WHERE probe = ?1 ORDER BY start", key)
            : []);
        return spans.Count == 0 ? Walk(probe, interval, rows) : Without(interval, spans).SelectMany(part => Walk(probe, part, rows));
    }

    // What is left of an interval beside spans that are in order of their starts.
    private static IEnumerable<Interval> Without(Interval interval, List<Interval> spans)
    {
        var (from, end) = (interval.HasStart ? interval.Start : Instant.MinValue, interval.HasEnd ? interval.End : Instant.MaxValue);
        foreach (var span in spans.Where(span => span.End > from && span.Start < end))
        {
            if (span.Start > from)
            {
                yield return new(from == Instant.MinValue ? null : from, span.Start);
            }

            from = Instant.Max(from, span.End);
        }

        if (from < end)
        {
            yield return new(from == Instant.MinValue ? null : from, end == Instant.MaxValue ? null : end);
        }
    }

    private IEnumerable<T> Walk<T>(ProbeId probe, Interval interval, RowReader<T> rows)
        where T : struct
    {
        foreach (var part in Parts(probe, interval, rows))
        {
            for (var i = 0; i < part.Length; i++)
            {
                yield return part.Span[i];
            }
        }
    }

    private IEnumerable<ReadOnlyMemory<T>> Parts<T>(ProbeId probe, Interval interval, RowReader<T> rows)
        where T : struct
    {
        using var cursor = Open(probe, interval, rows);
        if (cursor is null)
        {
            yield break;
        }

        var buffer = new T[BufferLength];
        for (var count = cursor.Fill(buffer); count > 0; count = cursor.Fill(buffer))
        {
            yield return buffer.AsMemory(0, count);
        }
    }

    private Cursor<T>? Open<T>(ProbeId probe, Interval interval, RowReader<T> rows)
        where T : struct
    {
        var connection = database.Rent();
        try
        {
            connection.Execute("BEGIN");
            if (ProbeKeys.Find(connection, probe) is { } key)
            {
                return new(database, connection, key, interval, rows);
            }

            database.Return(connection);
            return null;
        }
        catch (Exception exception) when (database.Explain(exception) is { } problem)
        {
            connection.Dispose();
            throw problem;
        }
    }
}

using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>Appends batches of readings to the journal inside the open transaction of the writing connection.</summary>
internal sealed class Appender(SqliteConnection connection, StoreOptions options, LeftOut leftOut) : IDisposable
{
    /// <summary>Late stretches kept for others to see; who has been away for longer than these folds everything again.</summary>
    private const int LateMax = 10_000;

    private readonly ReadingWriter writer = new(connection, leftOut);
    private readonly Dictionary<string, ProbeTail?> tails = new(StringComparer.Ordinal);

    public AppendResult Append(IReadOnlyList<Reading> readings, List<Refusal> refusals)
    {
        tails.Clear();
        var changed = new List<Reading>(readings.Count);
        var (inserted, filled, refused) = (0, 0, 0);
        for (var i = 0; i < readings.Count; i++)
        {
            var reading = readings[i];
            if (Tail(reading.Probe) is not { } tail)
            {
                refused++;
                refusals.Add(OneTooMany(reading));
                continue;
            }

            switch (Put(tail, reading, changed))
            {
                case Fate.Inserted:
                    inserted++;
                    break;
                case Fate.Filled:
                    filled++;
                    break;
            }
        }

        NoteLate();
        return new(inserted, filled, readings.Count - inserted - filled - refused, refused, changed);
    }

    /// <summary>Keeps values of unknown age; those of a probe beyond the bound are let go.</summary>
    public void Keep(IReadOnlyList<Reading> lastKnown)
    {
        foreach (var reading in lastKnown)
        {
            if (ProbeKeys.Take(connection, reading.Probe, options.ProbesMax) is { } key)
            {
                LastKnownRows.Keep(connection, key, reading);
            }
        }
    }

    public void Dispose() => writer.Dispose();

    private Fate Put(ProbeTail tail, in Reading reading, List<Reading> changed)
    {
        var at = reading.MeasuredAt.ToUnixTimeMilliseconds();
        if (reading.IsEmpty || (tail.HasRolled && writer.IsRolled(tail.Key, at)))
        {
            return Fate.Dropped;
        }

        if (writer.TryInsert(tail.Key, at, reading))
        {
            tail.Change(at);
            changed.Add(reading with
            {
                Probe = tail.Name,
                MeasuredAt = Instant.FromUnixTimeMilliseconds(at),
                ReceivedAt = Instant.FromUnixTimeMilliseconds(reading.ReceivedAt.ToUnixTimeMilliseconds()),
            });
            return Fate.Inserted;
        }

        if (writer.TryFill(tail.Key, at, reading) is not { } whole)
        {
            return Fate.Dropped;
        }

        tail.Change(at);
        changed.Add(whole with { Probe = tail.Name });
        return Fate.Filled;
    }

    private ProbeTail? Tail(ProbeId probe)
    {
        if (!tails.TryGetValue(probe.Text, out var tail))
        {
            tail = ProbeKeys.Take(connection, probe, options.ProbesMax) is { } key
                ? new(key, ProbeKeys.NameOf(connection, key), writer.Newest(key), HasRolled(key))
                : null;
            tails.Add(probe.Text, tail);
        }

        return tail;
    }

    private bool HasRolled(long key) => connection.Whole("SELECT EXISTS (SELECT 1 FROM rolled WHERE probe = ?1)", key) != 0;

    private void NoteLate()
    {
        var noted = false;
        foreach (var tail in tails.Values)
        {
            if (tail is { IsLate: true })
            {
                writer.NoteLate(tail.Key, tail.First, tail.Last);
                noted = true;
            }
        }

        if (noted)
        {
            connection.Execute("DELETE FROM late WHERE number <= (SELECT max(number) FROM late) - ?1", LateMax);
        }
    }

    private Refusal OneTooMany(in Reading reading) => new(
        reading.ReceivedAt,
        "journal",
        null,
        null,
        RefusalReason.UnknownProbe,
        reading.Probe.Text,
        $"The journal takes in {options.ProbesMax} probes; see what sends under so many names.");

    private enum Fate
    {
        Dropped,
        Inserted,
        Filled,
    }
}

using Chamber.Core.Climate;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>
/// Reads from the journal what a copy elsewhere has not got yet, in order of time over all probes, so much at once as fits into a
/// request. Each call opens its own reading connection for a few milliseconds: no reader is left open while the other side is slow.
/// </summary>
internal sealed class UnsentReadings(Journal journal)
{
    private const int AgainMax = 1000;

    /// <param name="cursor">How far the copy has them.</param>
    /// <param name="linesMax">So many at most.</param>
    /// <returns>The readings, and the cursor once the copy has them.</returns>
    public (IReadOnlyList<Reading> Readings, T Then) Next<T>(T cursor, int linesMax)
        where T : ReadingCursor
    {
        var (known, stretches) = Stretches(cursor);
        var chunks = Read(stretches, linesMax);
        var until = chunks.Where(chunk => chunk.HasMore).Select(chunk => chunk.Last).DefaultIfEmpty(Instant.MaxValue).Min();
        var taken = chunks.SelectMany(chunk => chunk.Readings).Where(reading => reading.MeasuredAt <= until)
            .OrderBy(reading => reading.MeasuredAt).ToList();
        return (taken, (T)After(known, chunks, until));
    }

    /// <summary>The tails of all probes, and what is to be sent once more. Notes of late readings become stretches of the cursor's
    /// own.</summary>
    private (ReadingCursor Cursor, List<Stretch> Stretches) Stretches(ReadingCursor cursor)
    {
        var changes = journal.ChangesSince(cursor.Mark());
        var newest = new Dictionary<string, long>(cursor.Newest);
        var again = cursor.Again.ToList();
        var tails = new List<Stretch>();
        foreach (var (probe, when) in changes.Stretches)
        {
            var isTail = !tails.Exists(tail => tail.Probe == probe) && changes.Mark.Newest.TryGetValue(probe, out var last)
                && when.End == last + Duration.FromMilliseconds(1)
                && (!when.HasStart || !cursor.Newest.TryGetValue(probe.Text, out var seen)
                    || when.Start > Instant.FromUnixTimeMilliseconds(seen));
            if (isTail)
            {
                tails.Add(new(probe, when, null));
                newest = when.HasStart ? newest : Without(newest, probe);
            }
            else if (newest.TryGetValue(probe.Text, out var sent) && when.Start.ToUnixTimeMilliseconds() <= sent)
            {
                // What lies behind the newest that was sent; the rest is in the tail.
                again.Add(new(probe.Text, when.Start.ToUnixTimeMilliseconds(), Math.Min(when.End.ToUnixTimeMilliseconds(), sent + 1)));
            }
        }

        again = Merged(again);
        var stretches = tails.Concat(again.Select(part => new Stretch(new(part.Probe), new(At(part.From), At(part.To)), part)));
        return (cursor with { Late = changes.Mark.Late, Newest = newest, Again = again }, [.. stretches]);
    }

    private List<Chunk> Read(List<Stretch> stretches, int linesMax)
    {
        var each = Math.Max(1, linesMax / Math.Max(1, stretches.Count));
        var chunks = new List<Chunk>(stretches.Count);
        foreach (var stretch in stretches.Take(linesMax))
        {
            var readings = journal.Read(stretch.Probe, stretch.When).Take(each + 1).ToList();
            var more = readings.Count > each;
            chunks.Add(new(stretch, more ? readings[..each] : readings, more));
        }

        return chunks;
    }

    private static ReadingCursor After(ReadingCursor cursor, List<Chunk> chunks, Instant until)
    {
        var newest = new Dictionary<string, long>(cursor.Newest);
        var again = cursor.Again.ToList();
        foreach (var chunk in chunks)
        {
            var taken = chunk.Readings.TakeWhile(reading => reading.MeasuredAt <= until).ToList();
            if (chunk.Stretch.Again is { } part)
            {
                again.Remove(part);
                if (chunk.HasMore || taken.Count < chunk.Readings.Count)
                {
                    again.Add(taken.Count == 0 ? part : part with { From = taken[^1].MeasuredAt.ToUnixTimeMilliseconds() + 1 });
                }
            }
            else if (taken.Count > 0)
            {
                newest[chunk.Stretch.Probe.Text] = taken[^1].MeasuredAt.ToUnixTimeMilliseconds();
            }
        }

        return cursor with { Newest = newest, Again = again };
    }

    /// <summary>Joined where they touch; with too many of them, one for each probe.</summary>
    private static List<AgainStretch> Merged(List<AgainStretch> parts)
    {
        var merged = new List<AgainStretch>();
        foreach (var part in parts.OrderBy(part => part.Probe, StringComparer.Ordinal).ThenBy(part => part.From))
        {
            if (merged is [.., var last] && last.Probe == part.Probe && part.From <= last.To)
            {
                merged[^1] = last with { To = Math.Max(last.To, part.To) };
            }
            else
            {
                merged.Add(part);
            }
        }

        return merged.Count <= AgainMax
            ? merged
            : [.. merged.GroupBy(part => part.Probe)
                .Select(own => new AgainStretch(own.Key, own.Min(part => part.From), own.Max(part => part.To)))];
    }

    private static Dictionary<string, long> Without(Dictionary<string, long> newest, ProbeId probe)
    {
        newest.Remove(probe.Text);
        return newest;
    }

    private static Instant At(long milliseconds) => Instant.FromUnixTimeMilliseconds(milliseconds);

    private sealed record Stretch(ProbeId Probe, Interval When, AgainStretch? Again);

    private sealed record Chunk(Stretch Stretch, List<Reading> Readings, bool HasMore)
    {
        public Instant Last => Readings[^1].MeasuredAt;
    }
}

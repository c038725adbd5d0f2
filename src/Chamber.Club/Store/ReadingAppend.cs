using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>Takes in readings of one home or of many, inside an open transaction: each once, and what is there already gains what it
/// lacked.</summary>
internal sealed class ReadingAppend(HomeSession session, StoreOptions options)
{
    // Late stretches kept for others to see; who has been away for longer than these folds everything again.
    private const int LateMax = 10_000;

    private readonly List<Pending> pending = [];
    private readonly Dictionary<(int Home, int Probe, Instant At), Pending> byKey = [];
    private readonly Dictionary<int, Tally> tallies = [];

    public async Task<IReadOnlyList<HomeAppend>> AppendAsync(IReadOnlyList<HomeReading> readings)
    {
        await session.LockAsync(readings.Select(one => one.Home));
        var probes = await ProbeRows.TakeAsync(session, readings.Select(one => (one.Home, one.Reading.Probe.Text)), options.ProbesMax);
        foreach (var (home, reading) in readings)
        {
            var tally = Of(home);
            tally.Count++;
            if (!probes.TryGetValue((home, reading.Probe.Text), out var probe))
            {
                tally.OneTooMany.Add(reading);
            }
            else if (!reading.IsEmpty && ReadingTimes.Holds(reading.MeasuredAt))
            {
                Gather(home, probe, reading);
            }
        }

        await FindKnownAsync();
        await InsertAsync();
        await FillAsync();
        await MoveOnAsync();
        foreach (var (home, tally) in tallies)
        {
            await RefusalRows.AppendAsync(session, home, [.. tally.OneTooMany.Select(OneTooMany)], options.RefusalsMax);
        }

        return [.. tallies.Select(pair => new HomeAppend(pair.Key, pair.Value.Result()))];
    }

    // Two of the same millisecond in one go are one reading: the first, with what it lacks from the second.
    private void Gather(int home, ProbeRow probe, Reading reading)
    {
        var at = ReadingTimes.Floor(reading.MeasuredAt);
        var kept = reading with { Probe = probe.Name, MeasuredAt = at, ReceivedAt = ReadingTimes.Floor(reading.ReceivedAt) };
        if (!byKey.TryGetValue((home, probe.Key, at), out var one))
        {
            pending.Add(byKey[(home, probe.Key, at)] = new(home, probe, kept));
        }
        else
        {
            one.Take(kept);
        }
    }

    // Only what is no newer than the newest can be there.
    private async Task FindKnownAsync()
    {
        var late = pending.Where(one => one.IsLate).ToList();
        if (late.Count == 0)
        {
            return;
        }

        var known = await session.RowsAsync(
            $"""
            SELECT late.home, late.probe, {ReadingRow.Columns} FROM unnest($1, $2, $3) AS late (home, probe, time)
              JOIN reading r ON r.home = late.home AND r.probe = late.probe AND r.at = late.time
            """,
            row => (Key: (row.GetInt32(0), row.GetInt32(1)), Reading: ReadingRow.Read(row, default, first: 2)),
            Homes(late), Probes(late), Times(late));
        foreach (var (key, reading) in known)
        {
            byKey[(key.Item1, key.Item2, reading.MeasuredAt)].Meet(reading);
        }

        await LeaveRolledAsync(late);
    }

    // What comes now for a time that was summed up has been here before.
    private async Task LeaveRolledAsync(List<Pending> late)
    {
        var rolled = await session.RowsAsync(
            """
            SELECT late.home, late.probe, late.time FROM unnest($1, $2, $3) AS late (home, probe, time)
              JOIN LATERAL (SELECT at, span FROM rolled s WHERE s.home = late.home AND s.probe = late.probe AND s.at <= late.time
                ORDER BY at DESC LIMIT 1) AS stretch ON late.time <= stretch.at + stretch.span * interval '1 millisecond'
            """,
            row => (row.GetInt32(0), row.GetInt32(1), row.GetFieldValue<Instant>(2)), Homes(late), Probes(late), Times(late));
        var gone = rolled.Select(key => byKey[key]).ToHashSet();
        pending.RemoveAll(gone.Contains);
    }

    private async Task InsertAsync()
    {
        var rows = pending.Where(one => one.IsNew).ToList();
        if (rows.Count > 0)
        {
            var readings = rows.ConvertAll(one => one.Reading);
            await session.ExecuteAsync(
                $"INSERT INTO reading (home, probe, {ReadingRow.Columns}) SELECT * FROM unnest($1, $2, $3, $4, $5, $6, $7, $8, $9)",
                [Homes(rows), Probes(rows), Times(rows), readings.Select(one => one.ReceivedAt).ToArray(),
                    readings.Select(one => (short)one.Clock).ToArray(), .. ReadingRow.Quantities(readings)]);
        }
    }

    private async Task FillAsync()
    {
        var rows = pending.Where(one => one.IsFuller).ToList();
        if (rows.Count > 0)
        {
            await session.ExecuteAsync(
                """
                UPDATE reading r SET temperature = f.temperature, humidity = f.humidity, moisture = f.moisture, battery = f.battery
                FROM unnest($1, $2, $3, $4, $5, $6, $7) AS f (home, probe, at, temperature, humidity, moisture, battery)
                WHERE r.home = f.home AND r.probe = f.probe AND r.at = f.at
                """,
                [Homes(rows), Probes(rows), Times(rows), .. ReadingRow.Quantities(rows.ConvertAll(one => one.Reading))]);
        }
    }

    // The newest of each probe, and the stretch behind it that changed.
    private async Task MoveOnAsync()
    {
        var changed = pending.Where(one => one.IsNew || one.IsFuller).ToList();
        foreach (var one in changed)
        {
            var tally = Of(one.Home);
            tally.Changed.Add(one.Reading);
            tally.Inserted += one.IsNew ? 1 : 0;
            tally.Filled += one.Fills;
        }

        var newer = changed.Where(one => !one.IsLate).GroupBy(one => (one.Home, one.Probe.Key)).Select(group => group.MaxBy(one => one.At)!)
            .ToList();
        if (newer.Count > 0)
        {
            await session.ExecuteAsync(
                "UPDATE probe p SET newest = n.at FROM unnest($1, $2, $3) AS n (home, key, at) WHERE p.home = n.home AND p.key = n.key",
                Homes(newer), Probes(newer), Times(newer));
        }

        foreach (var home in changed.Where(one => one.IsLate).GroupBy(one => one.Home))
        {
            var stretches = home.GroupBy(one => one.Probe.Key).ToList();
            await session.ExecuteAsync(
                """
                INSERT INTO late (home, number, probe, first, last)
                SELECT $1, (SELECT coalesce(max(number), 0) FROM late WHERE home = $1) + n, probe, first, last
                FROM unnest($2, $3, $4) WITH ORDINALITY AS new (probe, first, last, n)
                """,
                home.Key, stretches.Select(group => group.Key).ToArray(), stretches.Select(group => group.Min(one => one.At)).ToArray(),
                stretches.Select(group => group.Max(one => one.At)).ToArray());
            await session.ExecuteAsync(
                """
                UPDATE probe p SET rolled_to = least(rolled_to, n.first) FROM unnest($2, $3) AS n (probe, first)
                WHERE p.home = $1 AND p.key = n.probe
                """,
                home.Key, stretches.Select(group => group.Key).ToArray(),
                stretches.Select(group => ReadingTimes.QuarterOf(group.Min(one => one.At))).ToArray());
            await session.ExecuteAsync(
                "DELETE FROM late WHERE home = $1 AND number <= (SELECT max(number) FROM late WHERE home = $1) - $2", home.Key, LateMax);
        }
    }

    private Tally Of(int home)
    {
        if (!tallies.TryGetValue(home, out var tally))
        {
            tallies.Add(home, tally = new());
        }

        return tally;
    }

    private Refusal OneTooMany(Reading reading) => new(
        reading.ReceivedAt, "journal", null, null, RefusalReason.UnknownProbe, reading.Probe.Text,
        $"The journal takes in {options.ProbesMax} probes; see what sends under so many names.");

    private static int[] Homes(List<Pending> rows) => [.. rows.Select(one => one.Home)];

    private static int[] Probes(List<Pending> rows) => [.. rows.Select(one => one.Probe.Key)];

    private static Instant[] Times(List<Pending> rows) => [.. rows.Select(one => one.At)];

    private sealed class Pending(int home, ProbeRow probe, Reading reading)
    {
        private readonly List<Reading> parts = [reading];

        public int Home { get; } = home;

        public ProbeRow Probe { get; } = probe;

        /// <summary>The whole of it.</summary>
        public Reading Reading { get; private set; } = reading;

        public Instant At => Reading.MeasuredAt;

        public bool IsLate => Probe.Newest is { } newest && At <= newest;

        public bool IsNew { get; private set; } = true;

        /// <summary>So many of its parts added something to what was there before them.</summary>
        public int Fills { get; private set; }

        public bool IsFuller => !IsNew && Fills > 0;

        public void Take(Reading part)
        {
            parts.Add(part);
            Fill(part);
        }

        /// <summary>It is there already.</summary>
        public void Meet(Reading known)
        {
            (IsNew, Fills, Reading) = (false, 0, known with { Probe = Probe.Name });
            parts.ForEach(Fill);
        }

        private void Fill(Reading part)
        {
            var whole = ReadingRow.Filled(Reading, part);
            Fills += whole == Reading ? 0 : 1;
            Reading = whole;
        }
    }

    private sealed class Tally
    {
        public int Count { get; set; }

        public int Inserted { get; set; }

        public int Filled { get; set; }

        public List<Reading> OneTooMany { get; } = [];

        public List<Reading> Changed { get; } = [];

        public AppendResult Result() =>
            new(Inserted, Filled, Count - Inserted - Filled - OneTooMany.Count, OneTooMany.Count, Changed);
    }
}

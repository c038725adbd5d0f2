using Chamber.Core.Climate;
using Chamber.Storage;

namespace Chamber.Service.Import;

/// <summary>What an import came to.</summary>
internal sealed record ImportSummary(
    string File,
    long Lines,
    long New,
    long Filled,
    long Known,
    long RefusedLines,
    IReadOnlyList<RefusedLine> Refused,
    IReadOnlyList<ProbeId> Probes,
    IReadOnlyList<UnplacedProbe> Unplaced,
    IReadOnlyList<string> UnusedColumns)
{
    /// <summary>What cannot be used, by kind: the most frequent first.</summary>
    public IReadOnlyList<RefusalGroup> RefusedKinds { get; init; } = [];

    /// <summary>What nobody had said of the file and was taken from itself, in words.</summary>
    public IReadOnlyList<string> Understood { get; init; } = [];
}

/// <summary>A line that is not used, or only in part.</summary>
internal sealed record RefusedLine(long Line, string? Quantity, RefusalReason Reason, string Raw, string Fix);

/// <summary>Takes a file into the journal, some thousand lines a commit. Doing it again changes nothing.</summary>
internal sealed class ImportRun(ChamberStore store, ImportMemory memory, TextWriter? refusedTo)
{
    /// <summary>So many refused lines are kept for the answer; all are counted, and all go to the file of <c>--refused</c>.</summary>
    public const int RefusedShownMax = 50;

    private const int BatchLength = 5000;

    private readonly List<Reading> readings = new(BatchLength);
    private readonly List<Refusal> refusals = [];
    private readonly List<RefusedLine> shown = [];
    private readonly HashSet<ProbeId> probes = [];
    private readonly RefusalGroups groups = new();
    private readonly UnplacedCount unplaced = new(store.Ledger.SetUp.Stations());
    private long lines;
    private long refusedLines;
    private long lastLine;
    private long inserted;
    private long filled;
    private long duplicates;

    public ImportSummary Run(LoggerFile file, string name, Action<double> progress, CancellationToken cancel)
    {
        foreach (var line in file.Lines())
        {
            Take(line);
            if (readings.Count >= BatchLength || refusals.Count >= BatchLength)
            {
                Commit();
                progress(file.Progress);
                cancel.ThrowIfCancellationRequested();
            }
        }

        Commit();
        progress(1);
        return new(name, lines, inserted, filled, duplicates, refusedLines, shown,
            [.. probes.OrderBy(probe => probe.Text, StringComparer.Ordinal)], unplaced.Found(), file.UnusedColumns)
        {
            RefusedKinds = groups.All,
        };
    }

    private void Take(LoggerLine line)
    {
        lines++;
        if (line.Reading is { } reading)
        {
            readings.Add(reading);
            probes.Add(reading.Probe);
            unplaced.Take(reading);
        }

        if (line.Refusals.Count == 0)
        {
            return;
        }

        refusedLines++;
        lastLine = line.Number;
        if (line.Number > memory.CountedTo)
        {
            refusals.AddRange(line.Refusals);
        }

        foreach (var refusal in line.Refusals)
        {
            groups.Add(line.Number, refusal);
            refusedTo?.WriteLine($"{line.Number}\t{refusal.Quantity}\t{refusal.Reason}\t{refusal.Raw}\t{refusal.Fix}");
            if (shown.Count < RefusedShownMax)
            {
                shown.Add(new(line.Number, refusal.Quantity, refusal.Reason, refusal.Raw, refusal.Fix));
            }
        }
    }

    private void Commit()
    {
        if (readings.Count == 0 && refusals.Count == 0)
        {
            return;
        }

        var result = store.Journal.Append(readings, refusals);
        inserted += result.Inserted;
        filled += result.Filled;
        duplicates += result.Duplicates;
        if (refusals.Count > 0)
        {
            memory.Count(lastLine);
        }

        readings.Clear();
        refusals.Clear();
    }
}

using Chamber.Core.Climate;

namespace Chamber.Service.Import;

/// <summary>How a file would be taken in. Nothing is written.</summary>
/// <param name="File">The file.</param>
/// <param name="Lines">How many lines it has.</param>
/// <param name="Readings">How many of them hold a reading that can be used.</param>
/// <param name="First">The first of these.</param>
/// <param name="RefusedKinds">What cannot be used, by kind.</param>
/// <param name="UnusedColumns">The names of columns from which nothing is taken.</param>
/// <param name="Understood">What was taken from the file itself, in words.</param>
internal sealed record ImportTrial(string File, long Lines, long Readings, IReadOnlyList<TriedLine> First,
    IReadOnlyList<RefusalGroup> RefusedKinds, IReadOnlyList<string> UnusedColumns, IReadOnlyList<string> Understood)
{
    private const int LinesShown = 5;

    public static ImportTrial Of(LoggerFile file, string name, IReadOnlyList<string> understood, CancellationToken cancel)
    {
        var (first, groups, lines, readings) = (new List<TriedLine>(), new RefusalGroups(), 0L, 0L);
        foreach (var line in file.Lines())
        {
            cancel.ThrowIfCancellationRequested();
            lines++;
            foreach (var refusal in line.Refusals)
            {
                groups.Add(line.Number, refusal);
            }

            if (line.Reading is { } reading)
            {
                readings++;
                if (first.Count < LinesShown)
                {
                    first.Add(new(line.Number, reading));
                }
            }
        }

        return new(name, lines, readings, first, groups.All, file.UnusedColumns, understood);
    }
}

/// <summary>A line as it was understood.</summary>
internal sealed record TriedLine(long Line, Reading Reading);

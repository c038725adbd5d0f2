using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using CsvHelper;

namespace Chamber.Storage.Moving;

/// <summary>
/// All that a home is, in a folder: what was written down as JSON lines, readings as CSV, the times in which nothing could be heard, what
/// was refused, and what else <see cref="Parts"/> finds. The same for any store. What is worked out from these, alerts among it, is worked
/// out again.
/// </summary>
/// <remarks>A line that cannot be read is a <see cref="FormatException"/> that names it.</remarks>
public static class HomeFolder
{
    public const string Facts = "facts.jsonl";
    public const string Readings = "readings.csv";
    public const string Unheard = "unheard.csv";

    /// <summary>The user's own crops.</summary>
    public const string Crops = "crops.json";

    /// <summary>What is set for the home wherever it is kept, such as its time zone.</summary>
    public const string Settings = "settings.json";

    /// <summary>The folder of photos in it.</summary>
    public const string Photos = "photos";

    private const int Batch = 5_000;

    /// <summary>Files beside facts and readings, as paths in the folder, in order of name.</summary>
    public static IReadOnlyList<string> Parts(string folder) => [.. new[] { Unheard, RefusedFile.Name, Crops, Settings }
        .Where(file => File.Exists(Path.Combine(folder, file)))
        .Concat(Directory.Exists(Path.Combine(folder, Photos))
            ? Directory.EnumerateFiles(Path.Combine(folder, Photos), "*.jpg").Select(file => $"{Photos}/{Path.GetFileName(file)}")
            : [])
        .Order(StringComparer.Ordinal)];

    /// <summary>Writes what was written down in a home.</summary>
    /// <returns>How many entries.</returns>
    public static async ValueTask<int> WriteFactsAsync(string folder, IHomeStore home, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(home);
        var entries = await home.FactsSinceAsync(0, cancel);
        await File.WriteAllLinesAsync(Path.Combine(folder, Facts), entries.Select(FactLine.Write), cancel);
        return entries.Count;
    }

    /// <summary>The entries of a home, in order of number.</summary>
    public static IReadOnlyList<FactEntry> ReadFacts(string folder)
    {
        var path = Path.Combine(folder, Facts);
        return [.. TextLines.Of(path).Select((line, i) => Read(path, i + 1, () => FactLine.Read(line)))];
    }

    /// <summary>Writes every reading with all that is known of it, those that were set aside too, digit for digit: probe after probe in
    /// order of time.</summary>
    /// <param name="folder">Where to; a file that was there stays until this one is whole.</param>
    /// <param name="home">Whose.</param>
    /// <param name="report">Is told how much is done, 0 to 1.</param>
    /// <param name="cancel">Ends it.</param>
    /// <returns>How many.</returns>
    public static async ValueTask<long> WriteReadingsAsync(
        string folder, IHomeStore home, Action<double> report, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(home);
        ArgumentNullException.ThrowIfNull(report);
        var (path, count) = (Path.Combine(folder, Readings), 0L);
        using (var text = new StreamWriter(path + ".part"))
        using (var csv = ReadingLines.Writer(text))
        {
            csv.WriteHeader(ReadingLines.Columns);
            var probes = await home.ProbesAsync(cancel);
            foreach (var (i, probe) in probes.Index())
            {
                await foreach (var reading in home.ReadingsAsync(probe, new(null, null), cancel))
                {
                    csv.WriteRecord(ReadingLines.Cells(reading));
                    count++;
                }

                report((i + 1) / (double)probes.Count);
            }
        }

        File.Move(path + ".part", path, overwrite: true);
        return count;
    }

    /// <summary>Reads the readings of a home into another. Those that are there already are passed over, so that it can be done
    /// again.</summary>
    /// <param name="folder">The folder; one without readings has none.</param>
    /// <param name="home">Where to.</param>
    /// <param name="nameOf">What a probe is called there.</param>
    /// <param name="cancel">Ends it; what was read by then is there.</param>
    /// <returns>How many are new there.</returns>
    public static async ValueTask<long> ReadReadingsAsync(
        string folder, IHomeStore home, Func<ProbeId, ProbeId> nameOf, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(home);
        ArgumentNullException.ThrowIfNull(nameOf);
        var path = Path.Combine(folder, Readings);
        var (taken, readings) = (0L, new List<Reading>(Batch));
        if (!File.Exists(path))
        {
            return 0;
        }

        TextLines.Check(path);
        using var text = new StreamReader(path);
        using var reader = CsvReader.Create(text, new CsvReaderOptions { HasHeader = true, TrackLineNumbers = true });
        reader.ReadHeader();
        while (reader.Read())
        {
            var cells = ReadingLines.Cells(reader);
            readings.Add(Read(path, reader.LineNumber, () => ReadingLines.ReadingOf(cells, nameOf)));
            if (readings.Count == Batch)
            {
                taken += (await home.AppendAsync(readings, [], [], cancel)).Inserted;
                readings.Clear();
            }
        }

        return taken + (await home.AppendAsync(readings, [], [], cancel)).Inserted;
    }

    /// <summary>Writes the times in which nothing could be heard.</summary>
    public static void WriteUnheard(string folder, IReadOnlyList<OutageEntry> outages) => File.WriteAllLines(
        Path.Combine(folder, Unheard),
        outages.Select(LineOf).Prepend("from,to,cause"));

    /// <summary>The times in which nothing could be heard.</summary>
    public static IReadOnlyList<OutageEntry> ReadUnheard(string folder)
    {
        var path = Path.Combine(folder, Unheard);
        return File.Exists(path) ? UnheardOf(path, TextLines.Of(path)) : [];
    }

    /// <summary>The same of the lines of such a file.</summary>
    /// <param name="name">What it is called in messages.</param>
    /// <param name="lines">Its lines.</param>
    public static IReadOnlyList<OutageEntry> UnheardOf(string name, IEnumerable<string> lines) => [.. lines.Index().Skip(1)
        .Where(line => line.Item.Length > 0).Select(line => Read(name, line.Index + 1, () => OutageOf(line.Item.Split(','))))];

    private static T Read<T>(string path, long line, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception problem) when (ReadingLines.IsFault(problem))
        {
            throw new FormatException($"{path} line {line}: {problem.Message}", problem);
        }
    }

    private static string LineOf(OutageEntry one) =>
        $"{ReadingLines.Time(one.When.Start)},{(one.When.HasEnd ? ReadingLines.Time(one.When.End) : "")},{Word.Of(one.Cause)}";

    private static OutageEntry OutageOf(string[] cells) =>
        new(new(ReadingLines.Time(cells[0]), cells[1].Length == 0 ? null : ReadingLines.Time(cells[1])), Word.Read<OutageCause>(cells[2]));
}

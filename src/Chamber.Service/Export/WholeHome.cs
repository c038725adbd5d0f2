using Chamber.Core;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Service.Configuration;
using Chamber.Service.Photos;
using Chamber.Storage;
using Chamber.Storage.Facts;
using CsvHelper;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Export;

/// <summary>
/// All that a home is, in a folder: what was written down as JSON lines, readings as CSV, the times in which nothing could be heard,
/// and the user's own crops. What is worked out from these, alerts among it, is worked out again.
/// </summary>
internal static class WholeHome
{
    private const string Facts = "facts.jsonl";
    private const string Readings = "readings.csv";
    private const string Unheard = "unheard.csv";
    private const string Photos = "photos";

    /// <summary>Writes a home.</summary>
    /// <returns>The files.</returns>
    public static IReadOnlyList<string> Write(
        string folder, ChamberStore store, DataDirectory data, Action<double> report, CancellationToken cancel)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllLines(Path.Combine(folder, Facts), store.Facts.Since(0).Select(FactLine.Write));
        File.WriteAllLines(
            Path.Combine(folder, Unheard),
            store.Ledger.Alerts.Outages().Select(outage =>
                $"{Time(outage.When.Start)},{(outage.When.HasEnd ? Time(outage.When.End) : "")},{Choice.Word(outage.Cause)}")
                .Prepend("from,to,cause"));
        ReadingsFile.WriteWhole(Path.Combine(folder, Readings), store.Journal, report, cancel);
        List<string> files = [Facts, Unheard, Readings];
        if (File.Exists(data.Crops))
        {
            files.Add(Path.GetFileName(data.Crops));
            File.Copy(data.Crops, Path.Combine(folder, files[^1]), overwrite: true);
        }

        if (new PhotoFiles(data).CopyTo(Path.Combine(folder, Photos)) > 0)
        {
            files.Add(Photos);
        }

        return [.. files.Select(file => Path.Combine(folder, file))];
    }

    /// <summary>Reads the entries of a home.</summary>
    /// <exception cref="BadInputException">The folder has none, or a line is none; the message names it.</exception>
    public static IReadOnlyList<FactEntry> ReadFacts(string folder)
    {
        var path = Path.Combine(folder, Facts);
        return ReadLines(path).Select((line, i) => Read(path, i + 1, () => FactLine.Read(line))).ToList();
    }

    /// <summary>Reads the readings of a home into another, under the names that they have there. Those that are there already are passed
    /// over, so that it can be done again.</summary>
    /// <returns>How many are new there.</returns>
    /// <exception cref="BadInputException">A line is no reading; the message names it, and says how to go on.</exception>
    public static long ReadReadings(string folder, ChamberStore store, Func<ProbeId, ProbeId> nameOf)
    {
        var path = Path.Combine(folder, Readings);
        try
        {
            return File.Exists(path) ? ReadLines(path, store, nameOf) : 0;
        }
        catch (BadInputException problem)
        {
            throw new BadInputException(problem.Message, problem)
            {
                Hint = "Put it right and run the same again: it goes on where it stopped.",
            };
        }
    }

    private static long ReadLines(string path, ChamberStore store, Func<ProbeId, ProbeId> nameOf)
    {
        const int batch = 5_000;
        var (taken, readings) = (0L, new List<Reading>(batch));
        using var text = new StreamReader(path);
        using var reader = CsvReader.Create(text, new CsvReaderOptions { HasHeader = true, TrackLineNumbers = true });
        reader.ReadHeader();
        while (reader.Read())
        {
            var cells = Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i) ?? "").ToArray();
            readings.Add(Read(path, reader.LineNumber, () => ReadingOf(cells, nameOf)));
            if (readings.Count == batch)
            {
                taken += store.Journal.Append(readings, []).Inserted;
                readings.Clear();
            }
        }

        return taken + store.Journal.Append(readings, []).Inserted;
    }

    /// <summary>Reads the times in which nothing could be heard, and the user's own crops where there are none yet.</summary>
    public static void ReadRest(string folder, ChamberStore store, DataDirectory data)
    {
        var path = Path.Combine(folder, Unheard);
        foreach (var (i, line) in (File.Exists(path) ? ReadLines(path) : []).Index().Skip(1))
        {
            store.Ledger.Alerts.Save(Read(path, i + 1, () => OutageOf(line.Split(','))));
        }

        var crops = Path.Combine(folder, Path.GetFileName(data.Crops));
        if (File.Exists(crops) && !File.Exists(data.Crops))
        {
            File.Copy(crops, data.Crops);
        }
    }

    /// <summary>Copies the photos that are not there yet.</summary>
    /// <returns>How many.</returns>
    public static int ReadPhotos(string folder, DataDirectory data) => new PhotoFiles(Path.Combine(folder, Photos)).CopyTo(data.Photos);

    private static string[] ReadLines(string path)
    {
        try
        {
            return File.ReadAllLines(path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}",
                problem) { Hint = "Such a folder is made by: chamber export --all --out DIR" };
        }
    }

    private static T Read<T>(string path, long line, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception problem) when (problem is FormatException or ArgumentException or OverflowException or UnparsableValueException
            or IndexOutOfRangeException)
        {
            throw new BadInputException($"{path} line {line}: {problem.Message}", problem);
        }
    }

    private static Reading ReadingOf(string[] cells, Func<ProbeId, ProbeId> nameOf) => new(
        nameOf(new(cells[0])), Time(cells[1]), Time(cells[2]),
        Number(cells[4], Bounds.Celsius) is { } celsius ? Temperature.FromCelsius(celsius) : null,
        Number(cells[5]) is { } percent ? RelativeHumidity.FromPercent(percent) : null,
        Number(cells[6], Bounds.RawMoisture), Number(cells[7]), Choice.Parse<ClockSource>(cells[3]));

    private static OutageEntry OutageOf(string[] cells) =>
        new(new(Time(cells[0]), cells[1].Length == 0 ? null : Time(cells[1])), Choice.Parse<OutageCause>(cells[2]));

    private static double? Number(string cell, Bound? bound = null) => cell.Length == 0 ? null
        : double.Parse(cell, System.Globalization.CultureInfo.InvariantCulture) is var number && bound is null ? number
            : bound!.Require(number);

    private static Instant Time(string text) => InstantPattern.ExtendedIso.Parse(text).Value;

    private static string Time(Instant at) => InstantPattern.ExtendedIso.Format(at);
}

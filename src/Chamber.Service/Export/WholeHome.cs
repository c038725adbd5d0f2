using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Service.Configuration;
using Chamber.Service.Photos;
using Chamber.Storage;
using Chamber.Storage.Moving;

namespace Chamber.Service.Export;

/// <summary>A home as a folder (<see cref="HomeFolder"/>), with the files that lie beside the data file here: the user's own crops, what is
/// set for the home, and photos.</summary>
internal static class WholeHome
{
    /// <summary>Writes a home.</summary>
    /// <returns>The files.</returns>
    public static async Task<IReadOnlyList<string>> WriteAsync(
        string folder, ChamberStore store, DataDirectory data, Action<double> report, CancellationToken cancel)
    {
        Directory.CreateDirectory(folder);
        await HomeFolder.WriteFactsAsync(folder, store.Home, cancel);
        HomeFolder.WriteUnheard(folder, store.Ledger.Alerts.Outages());
        await RefusedFile.WriteAsync(folder, store.Records, cancel);
        await HomeFolder.WriteReadingsAsync(folder, store.Home, report, cancel);
        List<string> files = [HomeFolder.Facts, HomeFolder.Unheard, RefusedFile.Name, HomeFolder.Readings];
        if (File.Exists(data.Crops))
        {
            files.Add(HomeFolder.Crops);
            File.Copy(data.Crops, Path.Combine(folder, HomeFolder.Crops), overwrite: true);
        }

        await File.WriteAllTextAsync(Path.Combine(folder, HomeFolder.Settings), OwnSettings.Of(data), cancel);
        files.Add(HomeFolder.Settings);
        if (new PhotoFiles(data).CopyTo(Path.Combine(folder, HomeFolder.Photos)) > 0)
        {
            files.Add(HomeFolder.Photos);
        }

        return [.. files.Select(file => Path.Combine(folder, file))];
    }

    /// <summary>Reads the entries of a home.</summary>
    /// <exception cref="BadInputException">The folder has none, or a line is none; the message names it.</exception>
    public static Task<IReadOnlyList<FactEntry>> ReadFactsAsync(string folder) =>
        TellAsync(folder, () => new ValueTask<IReadOnlyList<FactEntry>>(HomeFolder.ReadFacts(folder)));

    /// <summary>Reads the readings of a home into another, under the names that they have there. Those that are there already are passed
    /// over, so that it can be done again.</summary>
    /// <returns>How many are new there.</returns>
    /// <exception cref="BadInputException">A line is no reading; the message names it, and says how to go on.</exception>
    public static Task<long> ReadReadingsAsync(string folder, ChamberStore store, Func<ProbeId, ProbeId> nameOf) => TellAsync(
        folder, () => HomeFolder.ReadReadingsAsync(folder, store.Home, nameOf),
        "Correct it and run the same again: it goes on where it stopped.");

    /// <summary>Reads the times in which nothing could be heard, what was refused, and the user's own crops and settings where there are
    /// none yet.</summary>
    public static async Task ReadRestAsync(string folder, ChamberStore store, DataDirectory data)
    {
        foreach (var outage in await TellAsync(folder, () => new ValueTask<IReadOnlyList<OutageEntry>>(HomeFolder.ReadUnheard(folder))))
        {
            store.Ledger.Alerts.Save(outage);
        }

        var (counts, refused) = await TellAsync(
            folder, () => new ValueTask<(IReadOnlyList<RefusalCount>, IReadOnlyList<Refusal>)>(RefusedFile.Read(folder)));
        store.Journal.TakeOver(counts, refused);
        TakeOver(Path.Combine(folder, HomeFolder.Crops), data.Crops);
        var settings = Path.Combine(folder, HomeFolder.Settings);
        if (File.Exists(settings))
        {
            OwnSettings.Read(settings, await File.ReadAllTextAsync(settings), data);
            TakeOver(settings, data.Settings);
        }
    }

    // What somebody has set up here stays as it is.
    private static void TakeOver(string from, string to)
    {
        if (File.Exists(from) && !File.Exists(to))
        {
            File.Copy(from, to);
        }
    }

    /// <summary>Copies the photos that are not there yet.</summary>
    /// <returns>How many.</returns>
    public static int ReadPhotos(string folder, DataDirectory data) =>
        new PhotoFiles(Path.Combine(folder, HomeFolder.Photos)).CopyTo(data.Photos);

    private static async Task<T> TellAsync<T>(string folder, Func<ValueTask<T>> read, string? hint = null)
    {
        try
        {
            return await read();
        }
        catch (FormatException problem)
        {
            throw new BadInputException(problem.Message, problem) { Hint = hint };
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException(
                $"{(problem as FileNotFoundException)?.FileName ?? folder} cannot be read: {FileFault.Of(problem)}", problem)
            {
                Hint = "Such a folder is made by: chamber export --all --out DIR",
            };
        }
    }
}

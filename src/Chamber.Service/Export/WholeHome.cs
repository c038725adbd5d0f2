using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Service.Configuration;
using Chamber.Service.Photos;
using Chamber.Storage;
using Chamber.Storage.Moving;

namespace Chamber.Service.Export;

/// <summary>A home as a folder (<see cref="HomeFolder"/>), with the files that lie beside the data file here: the user's own crops, and
/// photos.</summary>
internal static class WholeHome
{
    /// <summary>Writes a home.</summary>
    /// <returns>The files.</returns>
    public static IReadOnlyList<string> Write(
        string folder, ChamberStore store, DataDirectory data, Action<double> report, CancellationToken cancel)
    {
        Directory.CreateDirectory(folder);
        AtOnce.Of(HomeFolder.WriteFactsAsync(folder, store.Home, cancel));
        HomeFolder.WriteUnheard(folder, store.Ledger.Alerts.Outages());
        AtOnce.Of(HomeFolder.WriteReadingsAsync(folder, store.Home, report, cancel));
        List<string> files = [HomeFolder.Facts, HomeFolder.Unheard, HomeFolder.Readings];
        if (File.Exists(data.Crops))
        {
            files.Add(HomeFolder.Crops);
            File.Copy(data.Crops, Path.Combine(folder, HomeFolder.Crops), overwrite: true);
        }

        if (new PhotoFiles(data).CopyTo(Path.Combine(folder, HomeFolder.Photos)) > 0)
        {
            files.Add(HomeFolder.Photos);
        }

        return [.. files.Select(file => Path.Combine(folder, file))];
    }

    /// <summary>Reads the entries of a home.</summary>
    /// <exception cref="BadInputException">The folder has none, or a line is none; the message names it.</exception>
    public static IReadOnlyList<FactEntry> ReadFacts(string folder) => Told(folder, () => HomeFolder.ReadFacts(folder));

    /// <summary>Reads the readings of a home into another, under the names that they have there. Those that are there already are passed
    /// over, so that it can be done again.</summary>
    /// <returns>How many are new there.</returns>
    /// <exception cref="BadInputException">A line is no reading; the message names it, and says how to go on.</exception>
    public static long ReadReadings(string folder, ChamberStore store, Func<ProbeId, ProbeId> nameOf) => Told(
        folder, () => AtOnce.Of(HomeFolder.ReadReadingsAsync(folder, store.Home, nameOf)),
        "Put it right and run the same again: it goes on where it stopped.");

    /// <summary>Reads the times in which nothing could be heard, and the user's own crops where there are none yet.</summary>
    public static void ReadRest(string folder, ChamberStore store, DataDirectory data)
    {
        foreach (var outage in Told(folder, () => HomeFolder.ReadUnheard(folder)))
        {
            store.Ledger.Alerts.Save(outage);
        }

        var crops = Path.Combine(folder, HomeFolder.Crops);
        if (File.Exists(crops) && !File.Exists(data.Crops))
        {
            File.Copy(crops, data.Crops);
        }
    }

    /// <summary>Copies the photos that are not there yet.</summary>
    /// <returns>How many.</returns>
    public static int ReadPhotos(string folder, DataDirectory data) =>
        new PhotoFiles(Path.Combine(folder, HomeFolder.Photos)).CopyTo(data.Photos);

    private static T Told<T>(string folder, Func<T> read, string? hint = null)
    {
        try
        {
            return read();
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

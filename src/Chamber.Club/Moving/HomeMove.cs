using Chamber.Club.Store;
using Chamber.Core.Facts;
using Chamber.Storage.Moving;

namespace Chamber.Club.Moving;

/// <summary>Takes a home into a club and out again, by the folder that <c>chamber export --all</c> writes and <c>chamber import-home</c>
/// reads.</summary>
internal static class HomeMove
{
    /// <summary>Takes a home in; one that was broken off goes on when it is done again.</summary>
    /// <param name="club">The club.</param>
    /// <param name="name">What the home is called there. It is made if there is none; one that holds something else is left alone.</param>
    /// <param name="folder">The folder.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="FormatException">The folder holds no home, or this one cannot take it in; the message has the fix.</exception>
    public static async Task<Moved> ImportAsync(ClubDatabase club, string name, string folder, CancellationToken cancel)
    {
        if (!File.Exists(Path.Combine(folder, HomeFolder.Facts)))
        {
            throw new FormatException($"{folder} holds no {HomeFolder.Facts}. Such a folder is made by: chamber export --all --out FOLDER");
        }

        var entries = HomeFolder.ReadFacts(folder);
        if (entries.Index().Any(one => one.Item.Number != one.Index + 1))
        {
            throw new FormatException($"{folder}: the entries are not whole, their numbers do not run from 1 on. Export the home again.");
        }

        var (settings, (_, refused)) = (await SettingsAsync(folder, cancel), RefusedFile.Read(folder));
        var parts = HomeFolder.Parts(folder).Where(part => part != HomeFolder.Settings).ToList();
        if (parts.FirstOrDefault(part => new FileInfo(Path.Combine(folder, part)).Length > PartRows.LengthMax) is { } large)
        {
            throw new FormatException(
                $"{Path.Combine(folder, large)} is larger than {PartRows.LengthMax >> 20} MiB. Move it out of the folder and try again.");
        }

        var log = FactLog.Of(entries);
        var home = (await club.HomesAsync([name], cancel)).TryGetValue(name, out var known) ? known : await club.AddHomeAsync(name, cancel);
        var store = club.Home(home);
        if (!(await store.FactsSinceAsync(0, cancel)).Take(entries.Count).SequenceEqual(entries)
            && !await store.TryAppendAsync(entries, cancel))
        {
            throw new FormatException($"Something else is written down in {name} already. Take this home in under another name.");
        }

        var readings = await HomeFolder.ReadReadingsAsync(folder, store, probe => probe, cancel);
        if (settings is not null)
        {
            await club.AsAsync(home, session => SettingRows.PutAsync(session, home, settings), cancel);
        }

        foreach (var part in parts)
        {
            var body = await File.ReadAllBytesAsync(Path.Combine(folder, part), cancel);
            await club.AsAsync(home, async session =>
            {
                if (part == RefusedFile.Name && await PartRows.ReadAsync(session, home, part) is null)
                {
                    // The watch goes on from them; with the file in one transaction, so that they are there once.
                    await RefusalRows.AppendAsync(session, home, refused, new StoreOptions().RefusalsMax);
                }

                return await PartRows.KeepAsync(session, home, part, body);
            }, cancel);
        }

        return new(entries.Count, readings, log.LeftOut.Count, parts) { Strange = Strange(folder) };
    }

    /// <summary>Writes a home as such a folder.</summary>
    /// <param name="club">The club.</param>
    /// <param name="name">Whose.</param>
    /// <param name="folder">Where to: a new folder, or an empty one.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="FormatException">There is no such home, or the folder holds something.</exception>
    public static async Task<Moved> ExportAsync(ClubDatabase club, string name, string folder, CancellationToken cancel)
    {
        var home = await club.RequireAsync(name, cancel);
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
        {
            throw new FormatException($"{folder} holds something already: name a new folder.");
        }

        Directory.CreateDirectory(folder);
        var store = club.Home(home);
        var entries = await HomeFolder.WriteFactsAsync(folder, store, cancel);
        HomeFolder.WriteUnheard(folder, []);
        var readings = await HomeFolder.WriteReadingsAsync(folder, store, _ => { }, cancel);
        if (await club.AsAsync(home, session => SettingRows.ReadAsync(session, home), cancel) is { } settings)
        {
            await File.WriteAllTextAsync(Path.Combine(folder, HomeFolder.Settings), settings, cancel);
        }

        var parts = await club.AsAsync(home, session => PartRows.NamesAsync(session, home), cancel);
        foreach (var part in parts)
        {
            var path = Path.Combine(folder, part);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            var body = await club.AsAsync(home, session => PartRows.ReadAsync(session, home, part), cancel);
            await File.WriteAllBytesAsync(path, body!, cancel);
        }

        return new(entries, readings, 0, parts);
    }

    // Nothing is taken in where they cannot be used.
    private static async Task<string?> SettingsAsync(string folder, CancellationToken cancel)
    {
        var path = Path.Combine(folder, HomeFolder.Settings);
        if (!File.Exists(path))
        {
            return null;
        }

        var text = await File.ReadAllTextAsync(path, cancel);
        SettingRows.Checked(text);
        return text;
    }

    private static List<string> Strange(string folder) => [.. Directory.EnumerateFileSystemEntries(folder).Select(Path.GetFileName)
        .OfType<string>().Except(
            [HomeFolder.Facts, HomeFolder.Readings, HomeFolder.Unheard, RefusedFile.Name, HomeFolder.Crops, HomeFolder.Settings,
                HomeFolder.Photos])
        .Order(StringComparer.Ordinal)];
}

/// <summary>What was moved.</summary>
/// <param name="Entries">So many facts.</param>
/// <param name="Readings">So many readings; of a home taken in, those that are new.</param>
/// <param name="LeftOut">Of the facts so many count for nothing, as where they come from.</param>
/// <param name="Parts">Files that came beside them, and leave as they came.</param>
internal sealed record Moved(int Entries, long Readings, int LeftOut, IReadOnlyList<string> Parts)
{
    /// <summary>What lies in the folder and is not part of a home.</summary>
    public IReadOnlyList<string> Strange { get; init; } = [];
}

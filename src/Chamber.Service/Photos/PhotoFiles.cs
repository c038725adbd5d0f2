using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Photos;

/// <summary>The files of photos in the data directory. A copy holds what its name says.</summary>
internal sealed class PhotoFiles(string folder) : PhotoShelf
{
    /// <summary>How long the file of a photo that was removed stays, so that the removal can be taken back.</summary>
    public static readonly Duration KeptAfterRemoval = Duration.FromDays(7);

    public PhotoFiles(DataDirectory data)
        : this(data.Photos)
    {
    }

    /// <summary>The file of a photo, or of its small one; null when there is none of this name.</summary>
    public FileInfo? Find(string name, bool small = false) =>
        IsName(name) && new FileInfo(Path.Combine(folder, small ? SmallOf(name) : name)) is { Exists: true } file ? file : null;

    /// <summary>Copies photos that the other folder lacks; what is there already is the same.</summary>
    /// <returns>How many were copied.</returns>
    public int CopyTo(string other)
    {
        if (!Directory.Exists(folder))
        {
            return 0;
        }

        Directory.CreateDirectory(other);
        var lacking = Directory.EnumerateFiles(folder, "*" + Ending)
            .Where(path => !File.Exists(Path.Combine(other, Path.GetFileName(path)))).ToList();
        foreach (var path in lacking)
        {
            Write(Path.Combine(other, Path.GetFileName(path)), File.ReadAllBytes(path));
        }

        return lacking.Count(path => !path.EndsWith(SmallEnding, StringComparison.Ordinal));
    }

    /// <summary>Deletes files that no batch has had for a week: what was removed, and what was never written down.</summary>
    /// <param name="entries">All that is written down.</param>
    /// <param name="now">The time.</param>
    /// <returns>How many photos went.</returns>
    public int Sweep(IReadOnlyList<FactEntry> entries, Instant now)
    {
        if (!Directory.Exists(folder))
        {
            return 0;
        }

        var then = now - KeptAfterRemoval;
        var before = entries.TakeWhile(entry => entry.WrittenAt <= then).ToList();
        var wanted = NamesIn(entries).Concat(NamesIn(before))
            .Concat(entries.Skip(before.Count).Select(entry => entry.Fact).OfType<PhotoTaken>().Select(taken => taken.Photo))
            .ToHashSet(StringComparer.Ordinal);
        var gone = Directory.EnumerateFiles(folder, "*" + Ending).Select(path => new FileInfo(path))
            .Where(file => !file.Name.EndsWith(SmallEnding, StringComparison.Ordinal) && !wanted.Contains(file.Name)
                && Instant.FromDateTimeUtc(file.LastWriteTimeUtc) < then).ToList();
        foreach (var file in gone)
        {
            File.Delete(Path.Combine(folder, SmallOf(file.Name)));
            file.Delete();
        }

        return gone.Count;
    }

    protected override ValueTask<bool> WriteAsync(string name, byte[] photo, byte[] small)
    {
        try
        {
            Directory.CreateDirectory(folder);
            Write(Path.Combine(folder, SmallOf(name)), small);
            Write(Path.Combine(folder, name), photo);
            return new(true);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"The photo cannot be kept: {problem.Message}", problem);
        }
    }

    protected override async ValueTask<byte[]?> FindAsync(string name) =>
        Path.Combine(folder, name) is var path && File.Exists(path) ? await File.ReadAllBytesAsync(path) : null;

    private static IEnumerable<string> NamesIn(IReadOnlyList<FactEntry> entries) =>
        FactLog.Of(entries).Home.Batches.SelectMany(batch => batch.Photos).Select(photo => photo.Name);

    // Written whole or not at all: a photo that was cut off would look like one that is damaged.
    private static void Write(string path, byte[] bytes)
    {
        File.WriteAllBytes(path + ".part", bytes);
        File.Move(path + ".part", path, overwrite: true);
    }
}

using System.Collections.Concurrent;
using Chamber.Service.Ground;
using Chamber.Service.Photos;
using Chamber.Storage.Moving;

namespace Chamber.Club.Store;

/// <summary>The photos of a home of the club: files of it in the database, by the names that they have when the home moves.</summary>
internal sealed class ClubPhotos(ClubDatabase club, int home) : PhotoShelf
{
    // An act is computed again when what it wanted is there: a photo on its way is not sent twice.
    private readonly ConcurrentDictionary<string, Task<bool>> coming = new(StringComparer.Ordinal);

    protected override async ValueTask<bool> WriteAsync(string name, byte[] photo, byte[] small)
    {
        var writing = coming.GetOrAdd(name, _ => KeepAsync(name, photo, small));
        try
        {
            return await writing ? true : throw new BadInputException(
                $"This home has {PartRows.FilesMax} files, and no more are kept. Export the home, and ask whoever runs the club.");
        }
        catch
        {
            coming.TryRemove(new(name, writing));
            throw;
        }
    }

    protected override async ValueTask<byte[]?> FindAsync(string name) =>
        await club.AsAsync(home, session => PartRows.ReadAsync(session, home, PathOf(name)), CancellationToken.None);

    private Task<bool> KeepAsync(string name, byte[] photo, byte[] small) => club.AsAsync(
        home,
        async session =>
        {
            await session.LockAsync([home]);
            return await PartRows.KeepPhotoAsync(session, home, PathOf(SmallOf(name)), small)
                && await PartRows.KeepPhotoAsync(session, home, PathOf(name), photo);
        },
        CancellationToken.None);

    private static string PathOf(string name) => $"{HomeFolder.Photos}/{name}";
}

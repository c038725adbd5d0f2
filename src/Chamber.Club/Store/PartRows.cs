using System.Text;

namespace Chamber.Club.Store;

/// <summary>Files that belong to a home, by name, kept as they are.</summary>
internal static class PartRows
{
    /// <summary>A file is no larger than this, in bytes.</summary>
    public const int LengthMax = 32 << 20;

    /// <summary>So many files of a home are kept, at most: some thousand photos, each with its small one.</summary>
    public const int FilesMax = 10_000;

    /// <summary>The same of a photo, where there is room for one more.</summary>
    /// <returns>Whether it is there now.</returns>
    public static async Task<bool> KeepPhotoAsync(HomeSession session, int home, string name, byte[] body)
    {
        if (await session.OneAsync<long>("SELECT count(*) FROM part WHERE home = $1", home) >= FilesMax)
        {
            return await session.OneAsync<bool>("SELECT true FROM part WHERE home = $1 AND name = $2", home, name);
        }

        return await KeepAsync(session, home, name, body) > 0;
    }

    public static Task<int> KeepAsync(HomeSession session, int home, string name, byte[] body) => session.ExecuteAsync(
        "INSERT INTO part (home, name, body) VALUES ($1, $2, $3) ON CONFLICT (home, name) DO UPDATE SET body = excluded.body",
        home, name, body);

    /// <summary>The names of all of them, in order.</summary>
    public static Task<List<string>> NamesAsync(HomeSession session, int home) => session.RowsAsync(
        "SELECT name FROM part WHERE home = $1 ORDER BY name COLLATE \"C\"", row => row.GetString(0), home);

    /// <summary>A file that is text; null when there is none.</summary>
    public static async Task<string?> TextAsync(HomeSession session, int home, string name) =>
        await ReadAsync(session, home, name) is { } body ? Encoding.UTF8.GetString(body) : null;

    /// <summary>A file; null when there is none.</summary>
    public static Task<byte[]?> ReadAsync(HomeSession session, int home, string name) =>
        session.OneAsync<byte[]>("SELECT body FROM part WHERE home = $1 AND name = $2", home, name);
}

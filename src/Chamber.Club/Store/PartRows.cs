namespace Chamber.Club.Store;

/// <summary>Files that belong to a home, by name, kept as they are.</summary>
internal static class PartRows
{
    /// <summary>A file is no larger than this, in bytes.</summary>
    public const int LengthMax = 32 << 20;

    public static Task<int> KeepAsync(HomeSession session, int home, string name, byte[] body) => session.ExecuteAsync(
        "INSERT INTO part (home, name, body) VALUES ($1, $2, $3) ON CONFLICT (home, name) DO UPDATE SET body = excluded.body",
        home, name, body);

    /// <summary>The names of all of them, in order.</summary>
    public static Task<List<string>> NamesAsync(HomeSession session, int home) => session.RowsAsync(
        "SELECT name FROM part WHERE home = $1 ORDER BY name COLLATE \"C\"", row => row.GetString(0), home);

    public static async Task<byte[]> ReadAsync(HomeSession session, int home, string name) =>
        (await session.OneAsync<byte[]>("SELECT body FROM part WHERE home = $1 AND name = $2", home, name))!;
}

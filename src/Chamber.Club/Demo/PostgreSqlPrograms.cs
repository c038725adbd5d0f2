namespace Chamber.Club.Demo;

/// <summary>How to call the programs of PostgreSQL, of which Debian keeps each version in its own folder. They refuse to run as root: there
/// they run as the user of Debian's package.</summary>
internal static class PostgreSqlPrograms
{
    public const string User = "postgres";

    private const string Versions = "/usr/lib/postgresql";

    /// <summary>The newest of a name, as a command line; a name that is nowhere comes back as it is.</summary>
    public static string[] Of(string name)
    {
        var path = Directory.Exists(Versions)
            ? Directory.GetDirectories(Versions)
                .OrderBy(one => int.TryParse(Path.GetFileName(one), out var version) ? version : 0)
                .Select(one => Path.Combine(one, "bin", name)).LastOrDefault(File.Exists) ?? name
            : name;
        return Environment.IsPrivilegedProcess ? ["setpriv", $"--reuid={User}", $"--regid={User}", "--clear-groups", path] : [path];
    }
}

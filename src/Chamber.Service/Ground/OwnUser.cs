namespace Chamber.Service.Ground;

/// <summary>Who runs this program. A container may be started as a number that no user has; the runtime gives no name then, but an
/// error.</summary>
internal static class OwnUser
{
    /// <summary>The user's name, or what the machine says of one who has none.</summary>
    public static string Name { get; } = NameOr(() => Environment.UserName);

    internal static string NameOr(Func<string> ask)
    {
        try
        {
            return ask();
        }
        catch (IOException)
        {
            return $"user {Uid()}";
        }
    }

    // The real user is the first of the four (proc(5)).
    private static string Uid() => File.ReadLines("/proc/self/status").First(line => line.StartsWith("Uid:", StringComparison.Ordinal))
        .Split('\t')[1];
}

namespace Chamber.Service.Workers;

/// <summary>
/// Whether what is printed goes to the journal of systemd. The variable JOURNAL_STREAM names the socket by device and inode, and is
/// handed on to programs whose output goes elsewhere, so the two are compared (systemd.exec(5), "$JOURNAL_STREAM").
/// </summary>
internal static class SystemJournal
{
    private const string Output = "/proc/self/fd/1";

    public static bool IsConsole(Func<string, string?> variable) =>
        variable("JOURNAL_STREAM") is { } stream
        && stream.Split(':') is [_, { Length: > 0 } inode]
        && new FileInfo(Output).LinkTarget == $"socket:[{inode}]";
}

using Chamber.Core.Alerts;

namespace Chamber.Service.Ground;

/// <summary>What this assembly tells the operator. Ids 3000 to 3099, never given twice.</summary>
internal static partial class Log
{
    /// <summary>The trace of a problem, for the log: none where the store has said in one sentence what is the matter and the
    /// fix.</summary>
    public static Exception? Trace(Exception problem) => problem is StoreException { Fault: not StoreFault.Unexpected } ? null : problem;

    [LoggerMessage(3000, LogLevel.Information, "Chamber is ready. Data in {Directory}. {Reach}")]
    public static partial void Ready(ILogger logger, string directory, string reach);

    [LoggerMessage(3001, LogLevel.Information, "Chamber stops: what was taken in is recorded.")]
    public static partial void Stopping(ILogger logger);

    [LoggerMessage(3002, LogLevel.Warning,
        "The broker listens beyond this machine and has no users, so nobody is let in there. Add one: chamber broker-user add NAME")]
    public static partial void BrokerWithoutUsers(ILogger logger);

    [LoggerMessage(3092, LogLevel.Error,
        "Sensors of the home network are not let in: {Problem} Close it on the page (Set up, Phones and sensors), and open it again.")]
    public static partial void HomeNetworkNotOpened(ILogger logger, string problem);

    [LoggerMessage(3093, LogLevel.Warning, "The hub was not told how the home is, and will be in half a minute: {Problem}")]
    public static partial void HubTrouble(ILogger logger, string problem);

    [LoggerMessage(3094, LogLevel.Warning, "{Sentence}")]
    public static partial void ClockStepped(ILogger logger, string sentence);

    [LoggerMessage(3096, LogLevel.Error, "{Trouble}")]
    public static partial void FileTrouble(ILogger logger, string trouble);

    [LoggerMessage(3095, LogLevel.Error, "{Title}. {Trouble}")]
    public static partial void ClockTrouble(ILogger logger, string title, string trouble);

    [LoggerMessage(3097, LogLevel.Information,
        "chamber.json was changed: mappings, notices, quiet hours, home network and hub are in force now, the rest from the next start on.")]
    public static partial void SettingsFollowed(ILogger logger);

    [LoggerMessage(3098, LogLevel.Warning, "chamber.json was changed and cannot be used, so what was in force stays: {Problem}")]
    public static partial void SettingsNotFollowed(ILogger logger, string problem);

    [LoggerMessage(3003, LogLevel.Warning, "{LeftOut}")]
    public static partial void LeftOut(ILogger logger, string leftOut);

    [LoggerMessage(3004, LogLevel.Error,
        "{Worker} was stopped by a fault, and is started again in {Seconds} s; the others go on. {Problem}")]
    public static partial void WorkerFaulted(ILogger logger, Exception exception, string worker, int seconds, string problem);

    [LoggerMessage(3005, LogLevel.Error, "A notice by {Channel} met a fault and is tried again later; further ones go on. {Problem}")]
    public static partial void NoticeFaulted(ILogger logger, Exception exception, string channel, string problem);

    /// <summary>The number of the line with the code; it goes to the console only.</summary>
    public const int CodeEvent = 3006;

    [LoggerMessage(CodeEvent, LogLevel.Warning,
        "Nobody has signed up yet. Whoever reads this may: open the page and sign up with the code {Code}")]
    public static partial void SignUpCode(ILogger logger, string code);

    [LoggerMessage(3010, LogLevel.Information, "Watching {Spots}, {Probes} and {Batches}.")]
    public static partial void WatchRebuilt(ILogger logger, string spots, string probes, string batches);

    [LoggerMessage(3011, LogLevel.Error, "The watch could not go on and tries again: {Problem}")]
    public static partial void WatchTrouble(ILogger logger, Exception? exception, string problem);

    [LoggerMessage(EventId = 3012, Message = "{Alert}")]
    public static partial void AlertOpened(ILogger logger, LogLevel level, string alert);

    [LoggerMessage(3013, LogLevel.Information, "{Title}: closed ({Reason}).")]
    public static partial void AlertClosed(ILogger logger, string title, CloseReason reason);

    [LoggerMessage(3024, LogLevel.Information, "Already over: {Alerts} of the time before. All: chamber alerts --all")]
    public static partial void AlertsPassed(ILogger logger, string alerts);

    [LoggerMessage(3014, LogLevel.Debug, "{Topic} could not be published; it will be when the broker is there again.")]
    public static partial void AlertNotPublished(ILogger logger, string topic);

    [LoggerMessage(3015, LogLevel.Error,
        "The past cannot be read, so only danger is reported until the data file is repaired; alerts that were open stay as they are.")]
    public static partial void WatchWithoutPast(ILogger logger);

    [LoggerMessage(3020, LogLevel.Information, "Summed up {Removed} old readings into {Stretches} stretches.")]
    public static partial void RolledUp(ILogger logger, long removed, long stretches);

    [LoggerMessage(3021, LogLevel.Error, "Old readings could not be summed up and wait for the next night: {Problem}")]
    public static partial void RetentionTrouble(ILogger logger, Exception? exception, string problem);

    [LoggerMessage(3022, LogLevel.Information,
        "Backed up to {Path} ({Bytes} bytes), read through and whole; {Removed} older ones removed.")]
    public static partial void BackedUp(ILogger logger, string path, long bytes, int removed);

    [LoggerMessage(3023, LogLevel.Error, "The backup failed and is tried again within the hour: {Problem}")]
    public static partial void BackupTrouble(ILogger logger, Exception? exception, string problem);

    [LoggerMessage(3090, LogLevel.Error, "{Path} could not be answered: {Problem}")]
    public static partial void ApiTrouble(ILogger logger, Exception? exception, string path, string problem);

    [LoggerMessage(3091, LogLevel.Error, "A page could not be shown: {Problem}")]
    public static partial void PageTrouble(ILogger logger, Exception? exception, string problem);

    [LoggerMessage(3030, LogLevel.Error, "The simulated home stands still: {Problem} Start the demo again.")]
    public static partial void DemoStopped(ILogger logger, Exception exception, string problem);

    [LoggerMessage(3040, LogLevel.Error, "Notices wait until the ledger can be used again: {Problem}")]
    public static partial void NoticeTrouble(ILogger logger, Exception? exception, string problem);

    [LoggerMessage(3041, LogLevel.Warning, "A notice could not be sent by {Channel} and is tried again: {Reason}")]
    public static partial void NoticeLater(ILogger logger, string channel, string reason);

    [LoggerMessage(3042, LogLevel.Error, "A notice was given up by {Channel}: {Reason} See: chamber notices")]
    public static partial void NoticeDead(ILogger logger, string channel, string reason);

    [LoggerMessage(3046, LogLevel.Information, "A notice was sent by {Channel}.")]
    public static partial void NoticeSent(ILogger logger, string channel);

    [LoggerMessage(3047, LogLevel.Warning, "People were notified by {Channel} that nothing is watched.")]
    public static partial void ToldOfTrouble(ILogger logger, string channel);

    [LoggerMessage(3048, LogLevel.Warning, "People could not be notified by {Channel} that nothing is watched: {Reason}")]
    public static partial void NotToldOfTrouble(ILogger logger, string channel, string reason);

    [LoggerMessage(3045, LogLevel.Warning, "{Title}. {Known}")]
    public static partial void NotWatched(ILogger logger, string title, string known);

    [LoggerMessage(3043, LogLevel.Information, "The digest of {Day} waits to be sent.")]
    public static partial void DigestMade(ILogger logger, NodaTime.LocalDate day);

    [LoggerMessage(3044, LogLevel.Error, "The digest could not be made and is tried again: {Problem}")]
    public static partial void DigestTrouble(ILogger logger, Exception? exception, string problem);

    [LoggerMessage(3080, LogLevel.Information, "The history is mirrored to {Target}; {Rows} readings are to be sent.")]
    public static partial void MirrorBegins(ILogger logger, string target, long rows);

    [LoggerMessage(3081, LogLevel.Warning, "The mirror waits and loses nothing: {Trouble}")]
    public static partial void MirrorTrouble(ILogger logger, string trouble);

    [LoggerMessage(3082, LogLevel.Information, "The mirror is up to date again.")]
    public static partial void MirrorUpToDate(ILogger logger);

    [LoggerMessage(3083, LogLevel.Warning, "The server refused {Lines} lines for good; they are in {File}. It said: {Reason}")]
    public static partial void MirrorSetAside(ILogger logger, long lines, string file, string reason);

    [LoggerMessage(3084, LogLevel.Information, "Readings are sent to the club as {Target}; {Rows} are to be sent.")]
    public static partial void ForwardBegins(ILogger logger, string target, long rows);

    [LoggerMessage(3085, LogLevel.Warning, "Sending to the club waits and loses nothing: {Trouble}")]
    public static partial void ForwardTrouble(ILogger logger, string trouble);

    [LoggerMessage(3086, LogLevel.Information, "The club has the readings again.")]
    public static partial void ForwardAgain(ILogger logger);

    [LoggerMessage(3092, LogLevel.Warning, "The data file had {Things} otherwise than the facts have it; that was written again from the facts.")]
    public static partial void TablesWrittenAgain(ILogger logger, string things);

    [LoggerMessage(3093, LogLevel.Information, "The broker speaks TLS with its own certificate; sensors trust it by the file {File}.")]
    public static partial void BrokerCertificate(ILogger logger, string file);
}

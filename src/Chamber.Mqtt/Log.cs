using Microsoft.Extensions.Logging;

namespace Chamber.Mqtt;

/// <summary>What this assembly tells the operator. Ids 2000 to 2099, never given twice.</summary>
internal static partial class Log
{
    [LoggerMessage(2090, LogLevel.Debug, "A connection to the broker was not taken: {Problem}")]
    public static partial void ConnectionNotTaken(ILogger logger, string problem);

    [LoggerMessage(2091, LogLevel.Warning,
        "A connection from {Address} was refused: there are {Most} from there already, or as many clients as the broker takes. "
            + "Further ones are counted, and said once a minute.")]
    public static partial void ConnectionRefused(ILogger logger, string address, int most);

    [LoggerMessage(2000, LogLevel.Error, "What came in (messages: {Messages}) could not be stored. It is not acknowledged and not lost, "
        + "and is tried again in {Seconds} s. {Fault}")]
    public static partial void CommitFailed(ILogger logger, Exception? exception, int messages, double seconds, string fault);

    [LoggerMessage(2001, LogLevel.Error, "The message on {Topic} could not be stored and is set aside, so that the others can go on. "
        + "{Fault} {Fix} See it as it came: chamber refusals")]
    public static partial void PutAside(ILogger logger, Exception exception, string topic, string fault, string fix);

    [LoggerMessage(2002, LogLevel.Error,
        "A message could not be taken in. It is not acknowledged and not lost, and is tried again in {Seconds} s. {Fault}")]
    public static partial void DecodingWaits(ILogger logger, double seconds, string fault);

    [LoggerMessage(2003, LogLevel.Information, "Messages are stored again.")]
    public static partial void CommitsAgain(ILogger logger);

    [LoggerMessage(2010, LogLevel.Information, "Connected to the broker at {Host}:{Port} as {ClientId}.")]
    public static partial void Connected(ILogger logger, string host, int port, string clientId);

    [LoggerMessage(2011, LogLevel.Warning, "{Fault} The next try is in {Wait}.")]
    public static partial void ConnectFailed(ILogger logger, string fault, TimeSpan wait);

    [LoggerMessage(2012, LogLevel.Warning, "The connection to the broker at {Host}:{Port} was lost: {Reason}.")]
    public static partial void ConnectionLost(ILogger logger, string host, int port, string reason);

    [LoggerMessage(2013, LogLevel.Error, "The broker refused the subscription to {Filter} ({Code}): allow the user {User} to read it.")]
    public static partial void SubscriptionRefused(ILogger logger, string filter, string code, string? user);

    [LoggerMessage(2014, LogLevel.Warning, "The broker at {Host}:{Port} lets nobody listen to everything ({Code}), so topics without a "
        + "mapping leave no trace in the refusals: allow # for the user {User}, or set broker.traceUnmapped to false.")]
    public static partial void UnmappedRefused(ILogger logger, string host, int port, string code, string? user);

    [LoggerMessage(2020, LogLevel.Information, "The built-in broker listens on {Addresses}.")]
    public static partial void BrokerStarted(ILogger logger, string addresses);

    [LoggerMessage(2021, LogLevel.Warning, "Refused the client {ClientId} at {EndPoint}: {Reason}.")]
    public static partial void ClientRefused(ILogger logger, string clientId, string? endPoint, string reason);

    [LoggerMessage(2022, LogLevel.Warning,
        "The retained messages could not be kept in {File}; after a restart they are gone until published again.")]
    public static partial void RetainedNotKept(ILogger logger, Exception exception, string file);

    [LoggerMessage(2023, LogLevel.Warning, "The retained messages in {File} could not be read and are left out.")]
    public static partial void RetainedNotRead(ILogger logger, Exception exception, string file);

    [LoggerMessage(2024, LogLevel.Warning, "The broker's user {User} may not {What} {Topic}; said once. To allow it, give the user its rights "
        + "again: chamber broker-user add")]
    public static partial void TopicForbidden(ILogger logger, string user, string what, string topic);
}

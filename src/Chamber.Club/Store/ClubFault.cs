using System.Net.Sockets;
using Chamber.Club.Telemetry;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>Failures of the database, in words with the fix.</summary>
internal static class ClubFault
{
    private const string Where = "the club's database";

    /// <summary>Does something with the database.</summary>
    /// <exception cref="StoreException">It failed.</exception>
    public static async Task<T> Told<T>(Func<Task<T>> ask)
    {
        try
        {
            var answer = await ask();
            ClubSignals.NoteDatabase(isAway: false);
            return answer;
        }
        catch (NpgsqlException problem)
        {
            var fault = Of(problem);
            ClubSignals.NoteDatabase(fault.Fault == StoreFault.Away);
            throw fault;
        }
    }

    public static StoreException Of(Exception problem) => problem switch
    {
        PostgresException { SqlState: PostgresErrorCodes.UniqueViolation, TableName: "home" } =>
            new(StoreFault.Content, Where, "there is a home of that name.", "Choose another name.", problem),
        PostgresException { SqlState: PostgresErrorCodes.CheckViolation, TableName: "home" } =>
            new(StoreFault.Content, Where, "this is no name of a home.", "Use 1 to 40 small letters, digits and hyphens.", problem),
        PostgresException { SqlState: PostgresErrorCodes.DiskFull } =>
            new(StoreFault.DiskFull, Where, "the disk is full.", "Make room; nothing was written.", problem),
        PostgresException { SqlState: PostgresErrorCodes.InsufficientPrivilege } told =>
            new(StoreFault.ReadOnly, Where, $"{told.MessageText}.", "Give the club's user the rights that docs/club.md names.", problem),
        PostgresException { SqlState: PostgresErrorCodes.AdminShutdown or PostgresErrorCodes.CrashShutdown
            or PostgresErrorCodes.CannotConnectNow or PostgresErrorCodes.TooManyConnections } =>
            new(StoreFault.Away, Where, "the server goes, comes, or has no room for one more.",
                "It is tried again; if that stays so, see the server's log.", problem),
        PostgresException told =>
            new(StoreFault.Unexpected, Where, $"{told.MessageText} ({told.SqlState}).", "See the server's log.", problem),
        NpgsqlException { InnerException: SocketException or TimeoutException or IOException } or SocketException =>
            new(StoreFault.Away, Where, "the server does not answer.", "See that PostgreSQL runs and that its address is right.", problem),
        _ => new(StoreFault.Unexpected, Where, problem.Message, "See the server's log.", problem),
    };
}

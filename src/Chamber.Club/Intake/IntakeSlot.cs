using Chamber.Club.Store;
using Npgsql;

namespace Chamber.Club.Intake;

/// <summary>
/// One of the fixed places from which a club receives its readings. Whoever holds it joins the broker under its name, so that what the
/// broker still owes to that name comes to whoever takes it over. It is held by a lock of a connection: with the process, or with its
/// way to the database, the hold ends, and nobody's clock is asked.
/// </summary>
public sealed class IntakeSlot : IAsyncDisposable
{
    // Of the locks of this program: the first number says that the second is a slot's.
    internal const int LockOfSlots = 2;

    private readonly NpgsqlConnection connection;

    private IntakeSlot(int number, NpgsqlConnection connection) => (Number, this.connection) = (number, connection);

    /// <summary>From 0 on.</summary>
    public int Number { get; }

    /// <summary>The name under which it joins the broker.</summary>
    public string ClientId => FormattableString.Invariant($"chamber-club-{Number}");

    /// <summary>Takes the first that is free.</summary>
    /// <param name="database">Where holds are kept.</param>
    /// <param name="count">So many there are.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>Null when others hold all of them.</returns>
    public static async Task<IntakeSlot?> TryTakeAsync(ClubDatabase database, int count, CancellationToken cancel = default)
    {
        var connection = await database.ConnectAsync(cancel);
        try
        {
            for (var number = 0; number < count; number++)
            {
                await using var command = new NpgsqlCommand("SELECT pg_try_advisory_lock($1, $2)", connection);
                command.Parameters.Add(new() { Value = LockOfSlots });
                command.Parameters.Add(new() { Value = number });
                if (await command.ExecuteScalarAsync(cancel) is true)
                {
                    return new(number, connection);
                }
            }
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }

        await connection.DisposeAsync();
        return null;
    }

    /// <summary>Whether it is still held: asks the database.</summary>
    public async Task<bool> IsHeldAsync(CancellationToken cancel = default)
    {
        try
        {
            await using var command = new NpgsqlCommand("SELECT 1", connection);
            return await command.ExecuteScalarAsync(cancel) is 1;
        }
        catch (NpgsqlException)
        {
            return false;
        }
    }

    public async ValueTask DisposeAsync()
    {
        // A pooled connection goes on, and its locks with it.
        NpgsqlConnection.ClearPool(connection);
        await connection.DisposeAsync();
    }
}

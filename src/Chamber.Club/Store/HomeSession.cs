using System.Data;
using Npgsql;
using NpgsqlTypes;

namespace Chamber.Club.Store;

/// <summary>
/// A transaction in a role that sees the rows of one home alone, or that takes in readings for all. Without <see cref="CommitAsync"/>
/// nothing of it stays.
/// </summary>
internal sealed class HomeSession : IAsyncDisposable
{
    public const string HomeRole = "chamber_home";
    public const string IntakeRole = "chamber_intake";
    public const string RollUpRole = "chamber_rollup";
    public const string DoorRole = "chamber_door";
    public const string KeeperRole = "chamber_keeper";
    public const string LearnerRole = "chamber_learner";

    // Of the locks of this program: the first number says that the second is a home's.
    private const int LockOfHomes = 1;

    private readonly NpgsqlConnection connection;
    private readonly NpgsqlTransaction transaction;
    private readonly CancellationToken cancel;

    private HomeSession(NpgsqlConnection connection, NpgsqlTransaction transaction, CancellationToken cancel)
    {
        this.connection = connection;
        this.transaction = transaction;
        this.cancel = cancel;
    }

    public static async Task<HomeSession> BeginAsync(NpgsqlDataSource source, string role, int? home, CancellationToken cancel,
        IsolationLevel isolation = IsolationLevel.ReadCommitted)
    {
        var connection = await source.OpenConnectionAsync(cancel);
        try
        {
            var session = new HomeSession(connection, await connection.BeginTransactionAsync(isolation, cancel), cancel);
            await session.ExecuteAsync("SELECT set_config('role', $1, true), set_config('chamber.home', $2, true)",
                role, home is { } key ? FormattableString.Invariant($"{key}") : "");
            return session;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    /// <summary>Whoever writes for a home waits for whoever writes for it already. Homes are locked in one order, so that two never wait
    /// for each other.</summary>
    public Task LockAsync(IEnumerable<int> homes) => ExecuteAsync(
        "SELECT pg_advisory_xact_lock($1, home) FROM unnest($2) AS home", LockOfHomes, homes.Distinct().Order().ToArray());

    /// <summary>At the door: who asks from here on.</summary>
    public Task NameAsync(int person) =>
        ExecuteAsync("SELECT set_config('chamber.person', $1, true)", FormattableString.Invariant($"{person}"));

    public async Task<int> ExecuteAsync(string sql, params object?[] values)
    {
        await using var command = Command(sql, values);
        return await command.ExecuteNonQueryAsync(cancel);
    }

    public async Task<T?> OneAsync<T>(string sql, params object?[] values) => (await RowsAsync(
        sql, row => row.IsDBNull(0) ? default : row.GetFieldValue<T>(0), values)).FirstOrDefault();

    public async Task<List<T>> RowsAsync<T>(string sql, Func<NpgsqlDataReader, T> read, params object?[] values)
    {
        await using var command = Command(sql, values);
        await using var rows = await command.ExecuteReaderAsync(cancel);
        var all = new List<T>();
        while (await rows.ReadAsync(cancel))
        {
            all.Add(read(rows));
        }

        return all;
    }

    public NpgsqlCommand Command(string sql, params object?[] values)
    {
        var command = new NpgsqlCommand(sql, connection, transaction);
        foreach (var value in values)
        {
            command.Parameters.Add(value is JsonBodies bodies
                ? new() { Value = bodies.Texts, NpgsqlDbType = NpgsqlDbType.Array | NpgsqlDbType.Json }
                : new NpgsqlParameter { Value = value ?? DBNull.Value });
        }

        return command;
    }

    public Task CommitAsync() => transaction.CommitAsync(cancel);

    public async ValueTask DisposeAsync()
    {
        await transaction.DisposeAsync();
        await connection.DisposeAsync();
    }
}

/// <summary>Texts that the database keeps as JSON, letter by letter.</summary>
internal sealed record JsonBodies(string[] Texts);

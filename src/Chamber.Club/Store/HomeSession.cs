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

    // Goes out with the first question: by itself it cost as much as one.
    private readonly (string Name, int? Home) role;
    private bool hasRole;

    private HomeSession(
        NpgsqlConnection connection, NpgsqlTransaction transaction, (string Name, int? Home) role, CancellationToken cancel) =>
        (this.connection, this.transaction, this.role, this.cancel) = (connection, transaction, role, cancel);

    public static async Task<HomeSession> BeginAsync(NpgsqlDataSource source, string role, int? home, CancellationToken cancel,
        IsolationLevel isolation = IsolationLevel.ReadCommitted)
    {
        var connection = await source.OpenConnectionAsync(cancel);
        try
        {
            return new(connection, await connection.BeginTransactionAsync(isolation, cancel), (role, home), cancel);
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
        await using var batch = Batch([Question(sql, values)]);
        var count = await batch.ExecuteNonQueryAsync(cancel);
        hasRole = true;
        return count;
    }

    public async Task<T?> OneAsync<T>(string sql, params object?[] values) => (await RowsAsync(
        sql, row => row.IsDBNull(0) ? default : row.GetFieldValue<T>(0), values)).FirstOrDefault();

    public async Task<List<T>> RowsAsync<T>(string sql, Func<NpgsqlDataReader, T> read, params object?[] values)
    {
        await using var asked = await AskAsync(Question(sql, values));
        return await asked.AllAsync(read);
    }

    /// <summary>Asks several questions in one message; their answers come one after the other.</summary>
    public async Task<HomeAnswers> AskAsync(params NpgsqlBatchCommand[] questions)
    {
        var batch = Batch(questions);
        try
        {
            var rows = await batch.ExecuteReaderAsync(cancel);
            if (!hasRole)
            {
                await rows.NextResultAsync(cancel);
                hasRole = true;
            }

            return new(batch, rows, cancel);
        }
        catch
        {
            await batch.DisposeAsync();
            throw;
        }
    }

    public static NpgsqlBatchCommand Question(string sql, params object?[] values)
    {
        var command = new NpgsqlBatchCommand(sql);
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

    // Sent until it was taken on: a question in no role would be the owner's, who sees no row.
    private NpgsqlBatch Batch(NpgsqlBatchCommand[] questions)
    {
        var batch = new NpgsqlBatch(connection, transaction);
        if (!hasRole)
        {
            batch.BatchCommands.Add(Question("SELECT set_config('role', $1, true), set_config('chamber.home', $2, true)",
                role.Name, role.Home is { } key ? FormattableString.Invariant($"{key}") : ""));
        }

        foreach (var question in questions)
        {
            batch.BatchCommands.Add(question);
        }

        return batch;
    }
}

/// <summary>The answers to questions that were asked together; the first is at hand.</summary>
internal sealed class HomeAnswers(NpgsqlBatch asked, NpgsqlDataReader rows, CancellationToken cancel) : IAsyncDisposable
{
    private bool isRead;

    /// <summary>All rows of the present answer; the next is at hand then.</summary>
    public async Task<List<T>> AllAsync<T>(Func<NpgsqlDataReader, T> read)
    {
        var all = new List<T>();
        while (await rows.ReadAsync(cancel))
        {
            all.Add(read(rows));
        }

        isRead = !await rows.NextResultAsync(cancel);
        return all;
    }

    /// <summary>The next row of the present answer, the last one; null at its end.</summary>
    public async ValueTask<T?> NextAsync<T>(Func<NpgsqlDataReader, T> read)
        where T : struct
    {
        if (!isRead && await rows.ReadAsync(cancel))
        {
            return read(rows);
        }

        isRead = true;
        return null;
    }

    public async ValueTask DisposeAsync()
    {
        // Whoever leaves early does not wait for the rest. A server takes a connection of its own for each request to stop.
        if (!isRead)
        {
            asked.Cancel();
        }

        await rows.DisposeAsync();
        await asked.DisposeAsync();
    }
}

/// <summary>Texts that the database keeps as JSON, letter by letter.</summary>
internal sealed record JsonBodies(string[] Texts);

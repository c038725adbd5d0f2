using Microsoft.Data.Sqlite;

namespace Chamber.Service.Tests.Storage;

/// <summary>Another program that writes in a data file: it commits and begins again in one breath.</summary>
internal sealed class BusyNeighbour : IDisposable
{
    // Counting so far takes some hundredths of a second, in which the file is locked.
    private const string Work = "WITH RECURSIVE step(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM step WHERE n < 100000) SELECT max(n) "
        + "FROM step; UPDATE turn SET n = n + 1;";

    private readonly SqliteConnection connection;
    private readonly TaskCompletionSource begun = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public BusyNeighbour(string path)
    {
        connection = new($"Data Source={path};Pooling=False");
        connection.Open();
        Run("CREATE TABLE turn (n); INSERT INTO turn VALUES (0);");
    }

    public Task HasBegun => begun.Task;

    public void Hold() => Run("BEGIN IMMEDIATE;");

    /// <summary>Writes so many times without a pause.</summary>
    public Task BeginAsync(int turns) => Task.Run(() =>
    {
        Hold();
        begun.SetResult();
        for (var turn = 0; turn < turns; turn++)
        {
            Run($"{Work} COMMIT; BEGIN IMMEDIATE;");
        }

        Run("COMMIT;");
    });

    public void Dispose() => connection.Dispose();

    private void Run(string sql)
    {
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Written above.
        command.CommandText = sql;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }
}

using Chamber.Storage.Facts;
using Microsoft.Data.Sqlite;

namespace Chamber.Service.Tests.Storage;

/// <summary>Answers as of a time see each table as it was then: a new table is either laid over or named here as none of theirs.</summary>
public sealed class AsOfTablesTests
{
    // Laid over by views and tables of their own, or nothing that an answer reads.
    private static readonly string[] Others = ["reading", "rolled", "rolled_to", "late", "last_known", "refusal", "refusal_count", "fact",
        "probe", "alert", "outage", "setting", "notice", "notice_sent", "push_device"];

    [Fact]
    public void Every_table_of_a_home_is_laid_over_or_named()
    {
        using var file = new DataFile();
        file.Open().Dispose();
        using var connection = new SqliteConnection($"Data Source={file.Path};Mode=ReadOnly;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'";
        using var rows = command.ExecuteReader();
        var tables = new List<string>();
        while (rows.Read())
        {
            tables.Add(rows.GetString(0));
        }

        Assert.Empty(tables.Except(Others).Except(AsOfTables.Folded));
        Assert.Empty(AsOfTables.Folded.Except(tables));
    }
}

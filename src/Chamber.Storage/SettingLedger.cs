using Chamber.Storage.Files;

namespace Chamber.Storage;

/// <summary>
/// Small things by name: what a person chose, which is a fact, and what the program remembers for itself, such as how far an outward
/// copy has come.
/// </summary>
public sealed class SettingLedger
{
    private readonly Database database;

    internal SettingLedger(Database database) => this.database = database;

    /// <summary>The value, or null when it was never set.</summary>
    public string? Get(string name) =>
        database.Read(connection => connection.Text("SELECT value FROM setting WHERE name = ?1", name));

    public IReadOnlyDictionary<string, string> All() => database.Read(connection =>
        connection.Rows(row => (Name: row.GetString(0), Value: row.Text(1)!), "SELECT name, value FROM setting")
            .ToDictionary(row => row.Name, row => row.Value, StringComparer.Ordinal));

    /// <summary>What the program remembers for itself; null takes it away.</summary>
    public void Set(string name, string? value) => database.WriteDown(connection => value is null
        ? connection.Execute("DELETE FROM setting WHERE name = ?1", name)
        : connection.Execute("INSERT OR REPLACE INTO setting (name, value) VALUES (?1, ?2)", name, value));
}

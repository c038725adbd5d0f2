using System.Text.Json;
using Chamber.Core.Crops;
using Chamber.Storage.Files;

namespace Chamber.Storage;

/// <summary>Crops that the user has added or changed: the profile as JSON, with its sources. What the JSON means is for the catalog to
/// say.</summary>
public sealed class CropLedger
{
    private readonly Database database;

    internal CropLedger(Database database) => this.database = database;

    /// <summary>Every crop of the user, by name.</summary>
    public IReadOnlyList<(CropId Crop, string Json)> All() => database.Read(connection =>
        connection.Rows(row => (new CropId(row.GetString(0)), row.GetString(1)), "SELECT id, profile FROM crop ORDER BY id"));

    /// <summary>Adds a crop, or replaces the one with this name.</summary>
    public void Save(CropId crop, string json) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(!IsJson(json), $"The profile of \"{crop}\" is not JSON.");
        connection.Execute("INSERT OR REPLACE INTO crop (id, profile) VALUES (?1, ?2)", crop.Text, json);
        database.LeftOut.Forget($"Crop {crop}");
    });

    public void Remove(CropId crop) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(connection.Execute("DELETE FROM crop WHERE id = ?1", crop.Text) == 0,
            $"There is no crop \"{crop}\" of your own.");
        database.LeftOut.Forget($"Crop {crop}");
    });

    private static bool IsJson(string text)
    {
        try
        {
            using var document = JsonDocument.Parse(text);
            return true;
        }
        catch (JsonException)
        {
            return false;
        }
    }
}

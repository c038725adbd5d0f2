using System.Text.Json;
using Chamber.Core.Crops;
using Chamber.Core.Facts.Homes;
using Chamber.Storage.Files;

namespace Chamber.Storage;

/// <summary>Crops that the user has added or changed: the profile as JSON, with its sources. What the JSON means is for the catalog to
/// say.</summary>
public sealed class CropLedger
{
    private readonly Database database;
    private readonly Pen pen;

    internal CropLedger(Database database, Pen pen) => (this.database, this.pen) = (database, pen);

    /// <summary>Every crop of the user, by name.</summary>
    public IReadOnlyList<(CropId Crop, string Json)> All() => database.Read(connection =>
        connection.Rows(row => (new CropId(row.GetString(0)), row.GetString(1)), "SELECT id, profile FROM crop ORDER BY id"));

    /// <summary>Adds a crop, or replaces the one of this name.</summary>
    public void Save(CropId crop, string json)
    {
        LedgerRefusedException.When(!IsJson(json), $"The profile of \"{crop}\" is not JSON.");
        pen.Write(new CropNoted(crop, json).At(pen.Now));
        database.LeftOut.Forget($"Crop {crop}");
    }

    public void Remove(CropId crop)
    {
        pen.Write(new CropDropped(crop).At(pen.Now));
        database.LeftOut.Forget($"Crop {crop}");
    }

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

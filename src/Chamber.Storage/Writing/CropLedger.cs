using System.Text.Json;
using Chamber.Core.Crops;
using Chamber.Core.Facts.Homes;

namespace Chamber.Storage.Writing;

/// <summary>Crops that the user has added or changed: the profile as JSON, with its sources. What the JSON means is for the catalog to
/// say.</summary>
public sealed class CropLedger
{
    private readonly HomePen pen;

    internal CropLedger(HomePen pen) => this.pen = pen;

    /// <summary>Every crop of the user, by name.</summary>
    public IReadOnlyList<(CropId Crop, string Json)> All() => pen.Home.Crops;

    /// <summary>Adds a crop, or replaces the one of this name.</summary>
    public void Save(CropId crop, string json)
    {
        LedgerRefusedException.When(!IsJson(json), $"The profile of \"{crop}\" is not JSON.");
        pen.Write(new CropNoted(crop, json).At(pen.Now));
    }

    public void Remove(CropId crop) => pen.Write(new CropDropped(crop).At(pen.Now));

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

using Chamber.Core.Crops;

namespace Chamber.Service.Home;

/// <summary>A crop and how many plants of it.</summary>
internal sealed record Wanted(Crop Crop, int Plants)
{
    /// <summary>Reads <c>tomato:12</c>; without a number, one.</summary>
    public static Wanted Parse(CropCatalog catalog, string text)
    {
        var at = text.LastIndexOf(':');
        return at < 0 ? new(catalog.Require(text), 1)
            : new(catalog.Require(text[..at]), ShareText.Count(text[(at + 1)..], Core.Bounds.Plants));
    }
}

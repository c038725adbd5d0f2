using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Service.Configuration;

namespace Chamber.Service.Home.Writing;

/// <summary>What people set of crops without editing a file.</summary>
internal static class OwnCrops
{
    /// <summary>Keeps an ideal band for a known crop, or for a new one that is like it.</summary>
    /// <param name="home">The home.</param>
    /// <param name="crop">The crop that is changed or added.</param>
    /// <param name="like">The known crop that a new one starts from.</param>
    /// <param name="low">Where the band begins, with its unit.</param>
    /// <param name="high">Where it ends.</param>
    /// <param name="source">Where the numbers come from; may be empty.</param>
    /// <param name="poisonous">"no", or which part is poisonous and how; null or empty while nobody knows.</param>
    /// <exception cref="BadInputException">The band cannot be; nothing was written.</exception>
    public static void SaveBand(HomeReader home, CropId crop, CropId like, string low, string high, string source, string? poisonous = null)
    {
        var band = new BandText(
            BadInputException.In("low", () => TemperatureText.Parse(low.Replace(',', '.'))),
            BadInputException.In("high", () => TemperatureText.Parse(high.Replace(',', '.'))));
        if (band.Low >= band.High)
        {
            throw BadInputException.In("low", $"The band runs from {low} to {high}: the first must be the cooler one.");
        }

        var known = Kept(home, crop);
        var numbers = known with
        {
            BasedOn = crop == like ? known.BasedOn : like.Text,
            Band = band,
            Source = source.Trim().Length > 0 ? BadInputException.In("source", () => Core.Bounds.Source.Require(source.Trim()))
                : known.Source,
            Poisonous = string.IsNullOrWhiteSpace(poisonous) ? known.Poisonous
                : BadInputException.In("poisonous", () => Core.Bounds.Note.Require(poisonous.Trim())),
        };
        BadInputException.In("crop", () => home.Catalog.With([numbers.ToChange(crop)]));
        home.Writing(home.Now).Crops.Save(crop, CropFile.Write(numbers));
    }

    /// <summary>What people here have said of it so far.</summary>
    public static CropNumbers Kept(HomeReader home, CropId crop) =>
        home.Ledger.Crops.Where(kept => kept.Crop == crop).Select(kept => CropFile.ParseOrNothing(kept.Json)).FirstOrDefault()
            ?? new();

    /// <summary>Whether people here have changed or added it.</summary>
    public static bool Are(HomeReader home, CropId crop) => home.Ledger.Crops.Any(kept => kept.Crop == crop);

    /// <summary>Forgets what people said of a crop.</summary>
    /// <exception cref="BadInputException">They said nothing of it.</exception>
    public static void Forget(HomeReader home, CropId crop)
    {
        if (!Are(home, crop))
        {
            throw BadInputException.Unknown($"There is no crop \"{crop}\" of your own.");
        }

        home.Writing(home.Now).Crops.Remove(crop);
    }
}

namespace Chamber.Core.Crops;

/// <summary>The crops that the program knows: those it ships with, and the user's own over them.</summary>
public sealed class CropCatalog
{
    private static readonly Lazy<CropCatalog> LazyShipped = new(() => new(CatalogReader.Read()));

    private readonly Dictionary<CropId, Crop> byId;

    private CropCatalog(IEnumerable<Crop> crops)
    {
        Crops = [.. crops];
        byId = Crops.ToDictionary(crop => crop.Id);
    }

    /// <summary>The crops that come with the program, every number with its source.</summary>
    public static CropCatalog Shipped => LazyShipped.Value;

    /// <summary>Every crop: vegetables, herbs, flowers, then the user's additions.</summary>
    public IReadOnlyList<Crop> Crops { get; }

    /// <summary>The crop of exactly this id, or null.</summary>
    public Crop? Find(CropId id) => byId.GetValueOrDefault(id);

    /// <summary>The crop of this id, common name or other name, in any case and word order ("Sweet pepper" is <c>pepper-sweet</c>); null if
    /// there is none, or more than one.</summary>
    public Crop? Find(string name)
    {
        var key = CropNames.Key(name);
        return Crops.FirstOrDefault(crop => crop.Id.Text == name)
            ?? (Crops.Where(crop => CropNames.Of(crop).Contains(key)).Take(2).ToArray() is [var only] ? only : null);
    }

    /// <summary>The crop of this name, as <see cref="Find(string)"/>.</summary>
    /// <exception cref="UnknownCropException">There is none; the message names the nearest ones.</exception>
    public Crop Require(string name) => Find(name) ?? throw new UnknownCropException(name, CropNames.Nearest(name, Crops));

    /// <summary>This catalog with the user's changes over it: a change to a known crop replaces what it gives, any other adds a
    /// crop.</summary>
    /// <exception cref="FormatException">A change leaves out what a new crop needs, or its numbers are out of order; the message names the
    /// crop.</exception>
    public CropCatalog With(IEnumerable<CropChange> changes)
    {
        var crops = Crops.ToList();
        foreach (var change in changes)
        {
            var index = crops.FindIndex(crop => crop.Id == change.Id);
            var changed = change.ApplyTo(index < 0 ? BasedOn(change, crops) : crops[index]);
            if (index < 0)
            {
                crops.Add(changed);
            }
            else
            {
                crops[index] = changed;
            }
        }

        return new(crops);
    }

    private static Crop? BasedOn(CropChange change, List<Crop> crops) =>
        change.BasedOn is { } basis
            ? crops.Find(crop => crop.Id == basis)
                ?? throw new FormatException($"The crop {change.Id} is based on {basis}, which is not in the catalog.")
            : null;
}

/// <summary>A name that no crop has.</summary>
public sealed class UnknownCropException : FormatException
{
    public UnknownCropException()
    {
    }

    public UnknownCropException(string message)
        : base(message)
    {
    }

    public UnknownCropException(string message, Exception innerException)
        : base(message, innerException)
    {
    }

    internal UnknownCropException(string name, IReadOnlyList<string> nearest)
        : base(nearest.Count == 0
            ? $"\"{name}\" is not in the crop catalog. To see it: chamber crops"
            : $"\"{name}\" is not in the crop catalog. Did you mean {string.Join(" or ", nearest)}?")
    {
    }
}

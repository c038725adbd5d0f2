using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Seeds;

namespace Chamber.Service.Home;

/// <summary>The cautions of what somebody is about to do in this home, or has just recorded.</summary>
internal static class HomeCautions
{
    /// <summary>Of a sowing that was recorded.</summary>
    public static IReadOnlyList<ShownCaution> OfSowing(HomeReader home, Batch batch) => CautionRules.Sowing(new(
        home.Catalog.Find(batch.Crop),
        batch.Method,
        IsTreated(home, batch.Lot),
        batch.Stays is [var stay, ..] ? home.Spots().FirstOrDefault(spot => spot.Id == stay.Spot) : null)
    {
        IsTest = batch.IsTest,
        Treatment = batch.Treatment,
    });

    /// <summary>Of a batch that is asked about again: one line each, first what can hurt.</summary>
    public static IReadOnlyList<ShownCaution> OfBatch(HomeReader home, Batch batch)
    {
        var isMouldy = CautionRules.HasMould(batch)
            || home.Ledger.Notes.Any(note => note.About == FactSubject.Of(batch.Id) && CautionRules.SpeaksOfMould(note.Text));
        IEnumerable<Caution> cautions =
        [
            .. IsTreated(home, batch.Lot) ? [CautionBook.TreatedSeed] : Array.Empty<Caution>(),
            .. home.Catalog.Find(batch.Crop) is { } crop ? PoisonCaution.Of(crop) : [],
            .. isMouldy ? [CautionBook.Mould] : Array.Empty<Caution>(),
        ];
        return [.. cautions.Select(ShownCaution.Line)];
    }

    /// <summary>Of what was just recorded, in full when it is mould.</summary>
    /// <param name="isMould">Whether mould was named.</param>
    public static IReadOnlyList<ShownCaution> OfRecord(bool isMould) => isMould ? [ShownCaution.Whole(CautionBook.Mould)] : [];

    public static bool IsTreated(HomeReader home, LotId? lot) =>
        lot is { } id && home.Ledger.Lots.Any(known => known.Id == id && known.Treated);

    /// <summary>The catalogue with what is known of crops, this home's own among them.</summary>
    public static IReadOnlyList<Caution> All(CropCatalog crops) =>
        [.. CautionBook.All.Concat(crops.Crops.SelectMany(PoisonCaution.Of)).DistinctBy(caution => caution.Name)];

    /// <exception cref="BadInputException">There is none with this name.</exception>
    public static Caution Require(IReadOnlyList<Caution> all, string name) =>
        all.FirstOrDefault(caution => string.Equals(caution.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw BadInputException.Unknown($"There is no caution \"{name}\".", "All of them: chamber cautions");
}

/// <summary>A caution for programs.</summary>
/// <param name="Name">As <c>chamber cautions NAME</c> takes it.</param>
/// <param name="Line">In one line.</param>
/// <param name="Full">All of it.</param>
/// <param name="Where">When it is shown.</param>
/// <param name="Source">Where it comes from.</param>
internal sealed record CautionAnswer(string Name, string Line, string Full, string Where, string Source)
{
    public static CautionAnswer Of(Caution caution) => new(caution.Name, caution.Line, caution.Full, caution.Where, caution.Source);
}

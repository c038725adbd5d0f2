using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Core.Facts.Lots;

/// <summary>Seed was got, or something else is known of it: what is left out stays as it is. A new lot needs its crop and its
/// seeds.</summary>
/// <param name="Lot">Its name.</param>
/// <param name="Crop">What it is.</param>
/// <param name="Seeds">How many seeds there were at that moment; what is sown or tested from then on is taken off.</param>
/// <param name="Variety">The variety as the packet says it.</param>
/// <param name="Origin">Bought or saved; a new lot is bought where this is left out.</param>
/// <param name="Year">The year on the packet or of the harvest.</param>
/// <param name="YearKind">Which year that is; of a new lot the year it was packed for.</param>
/// <param name="Price">What it cost, in the home's own money; 0 for a gift.</param>
/// <param name="Bought">How many seeds the price paid for, where that differs from the last count.</param>
/// <param name="Storage">Where it is kept; a new lot in a room.</param>
/// <param name="Treated">Whether the seed is treated with a pesticide; a new lot is not.</param>
/// <param name="Parent">The lot whose plants bore this seed.</param>
/// <param name="StatedShare">The germination stated on the packet, 0 to 1.</param>
/// <param name="Note">What else is known.</param>
/// <param name="Forgotten">What was written down and is no longer known.</param>
public sealed record LotNoted(
    LotId Lot,
    CropId? Crop = null,
    int? Seeds = null,
    string? Variety = null,
    SeedOrigin? Origin = null,
    int? Year = null,
    LotYearKind? YearKind = null,
    decimal? Price = null,
    int? Bought = null,
    SeedStorage? Storage = null,
    bool? Treated = null,
    LotId? Parent = null,
    double? StatedShare = null,
    string? Note = null,
    LotParts Forgotten = LotParts.None) : Fact
{
    /// <summary>A chain of seed saved from seed is no longer.</summary>
    private const int LineageMax = 100;

    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Lot)];

    /// <summary>What makes a lot of what was known of it before.</summary>
    /// <param name="before">As it was; null for a new one.</param>
    /// <param name="after">As it is.</param>
    /// <param name="now">When it is so, unless the seeds were counted again: then when they were counted.</param>
    public static DatedFact Between(Lot? before, Lot after, Instant now)
    {
        ArgumentNullException.ThrowIfNull(after);
        var isCounted = before is null || before.Counted != after.Counted || before.CountedAt != after.CountedAt;
        return new LotNoted(
            after.Id,
            after.Crop == before?.Crop ? null : after.Crop,
            isCounted ? after.Counted : null,
            after.Variety == before?.Variety ? null : after.Variety,
            after.Origin == before?.Origin ? null : after.Origin,
            after.Year == before?.Year ? null : after.Year,
            after.YearKind == before?.YearKind ? null : after.YearKind,
            after.Price == before?.Price ? null : after.Price,
            after.Bought == before?.Bought ? null : after.Bought,
            after.Storage == before?.Storage ? null : after.Storage,
            after.Treated == before?.Treated ? null : after.Treated,
            after.Parent == before?.Parent ? null : after.Parent,
            after.StatedShare.Equals(before?.StatedShare) ? null : after.StatedShare,
            after.Note == before?.Note ? null : after.Note,
            before is null ? LotParts.None : Gone(before, after)).At(isCounted ? after.CountedAt : now);
    }

    public override string Words(ShownNames names) =>
        FactWords.Line($"lot {Lot} noted", Crop?.Text, Seeds is { } seeds ? FactWords.Count(seeds, "seed") : null, Variety, Year is { } year
            ? $"{year}" : null, Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        var old = home.Lots.GetValueOrDefault(Lot);
        FactRefusedException.When(old is null && Crop is null, $"There is no lot \"{Lot}\" yet: say of which crop it is.", "crop");
        FactRefusedException.When(old is null && Seeds is null, $"There is no lot \"{Lot}\" yet: say how many seeds there are.", "seeds");
        var lot = Noted(Without(old ?? new(Lot, Crop!.Value, null, SeedOrigin.Bought, null, LotYearKind.PackedFor, 0, at)), at);
        FactRefusedException.When(WithinBounds.WhyNot(lot));
        FactRefusedException.When(lot.Bought < 1, $"The price paid for at least 1 seed.");
        RequireLineage(home, lot);
        home.Lots[Lot] = lot;
    }

    private Lot Noted(Lot lot, Instant at) => lot with
    {
        Crop = Crop ?? lot.Crop,
        Counted = Seeds ?? lot.Counted,
        CountedAt = Seeds is null ? lot.CountedAt : at,
        Variety = Variety ?? lot.Variety,
        Origin = Origin ?? lot.Origin,
        Year = Year ?? lot.Year,
        YearKind = YearKind ?? lot.YearKind,
        Price = Price ?? lot.Price,
        Bought = Bought ?? lot.Bought,
        Storage = Storage ?? lot.Storage,
        Treated = Treated ?? lot.Treated,
        Parent = Parent ?? lot.Parent,
        StatedShare = StatedShare ?? lot.StatedShare,
        Note = Note ?? lot.Note,
    };

    private Lot Without(Lot lot) => lot with
    {
        Variety = Forgotten.HasFlag(LotParts.Variety) ? null : lot.Variety,
        Year = Forgotten.HasFlag(LotParts.Year) ? null : lot.Year,
        Parent = Forgotten.HasFlag(LotParts.Parent) ? null : lot.Parent,
        Price = Forgotten.HasFlag(LotParts.Price) ? null : lot.Price,
        Bought = Forgotten.HasFlag(LotParts.Bought) ? null : lot.Bought,
        StatedShare = Forgotten.HasFlag(LotParts.Stated) ? null : lot.StatedShare,
        Note = Forgotten.HasFlag(LotParts.Note) ? null : lot.Note,
    };

    private static LotParts Gone(Lot before, Lot after) =>
        (before.Variety is not null && after.Variety is null ? LotParts.Variety : LotParts.None)
        | (before.Year is not null && after.Year is null ? LotParts.Year : LotParts.None)
        | (before.Parent is not null && after.Parent is null ? LotParts.Parent : LotParts.None)
        | (before.Price is not null && after.Price is null ? LotParts.Price : LotParts.None)
        | (before.Bought is not null && after.Bought is null ? LotParts.Bought : LotParts.None)
        | (before.StatedShare is not null && after.StatedShare is null ? LotParts.Stated : LotParts.None)
        | (before.Note is not null && after.Note is null ? LotParts.Note : LotParts.None);

    private static void RequireLineage(HomeFold home, Lot lot)
    {
        var ancestor = lot.Parent;
        for (var i = 0; ancestor is { } parent; i++)
        {
            FactRefusedException.When(parent == lot.Id || i > LineageMax, $"Lot \"{lot.Id}\" would be its own ancestor.", "parent");
            ancestor = home.Require(parent).Parent;
        }
    }
}

/// <summary>The seeds of a lot were counted: what is sown or tested from then on is taken off.</summary>
/// <param name="Lot">Which lot.</param>
/// <param name="Seeds">How many there were, 0 or more.</param>
public sealed record SeedsCounted(LotId Lot, int Seeds) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Lot)];

    public override string Words(ShownNames names) => $"{FactWords.Count(Seeds, "seed")} of lot {Lot} counted";

    internal override void Apply(HomeFold home, Instant at)
    {
        var lot = home.Require(Lot);

        // What the price paid for is the first count.
        var counted = lot with { Counted = Seeds, CountedAt = at, Bought = lot.Bought ?? (lot.Counted > 0 ? lot.Counted : null) };
        FactRefusedException.When(WithinBounds.WhyNot(counted), "seeds");
        home.Lots[Lot] = counted;
    }
}

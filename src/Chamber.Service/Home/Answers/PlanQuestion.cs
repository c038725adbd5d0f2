using System.Numerics;
using Chamber.Core;
using Chamber.Core.Plans;

namespace Chamber.Service.Home.Answers;

/// <summary>How many to sow, as it is asked on the command line, on the page and of the API. What is left out has the default of <c>chamber
/// plan --help</c>.</summary>
internal sealed record PlanQuestion
{
    private const double DefaultAssurance = 0.9;

    /// <summary>How many plants are wanted.</summary>
    public int? Plants { get; init; }

    /// <summary>How much is to be harvested, in any unit; with <see cref="Yield"/> instead of plants.</summary>
    public double? Harvest { get; init; }

    /// <summary>What one plant gives, in the same unit.</summary>
    public double? Yield { get; init; }

    /// <summary>The share that comes up, 0 to 1.</summary>
    public double? Germination { get; init; }

    /// <summary>Instead, a lot: its share, with its doubt.</summary>
    public string? Lot { get; init; }

    /// <summary>Of those up, the share that lives to be planted out.</summary>
    public double? Survival { get; init; }

    /// <summary>How sure to be, between 0 and 1.</summary>
    public double? Assurance { get; init; }

    /// <summary>Seeds in a cell; each cell is thinned to one plant.</summary>
    public int? PerCell { get; init; }

    /// <summary>Price of one seed; that of the lot by default.</summary>
    public decimal? SeedPrice { get; init; }

    /// <summary>Litres of mix in all.</summary>
    public double? MixLitres { get; init; }

    /// <summary>Price of a litre of mix.</summary>
    public decimal? MixPrice { get; init; }

    /// <summary>Power of mat and lamp, W.</summary>
    public double? Watts { get; init; }

    /// <summary>How many hours they run.</summary>
    public double? HeatHours { get; init; }

    /// <summary>Price of a kWh.</summary>
    public decimal? KwhPrice { get; init; }

    /// <summary>Price of pots and trays for this season.</summary>
    public decimal? PotsPrice { get; init; }

    /// <summary>Price of a bought plant, for comparison.</summary>
    public decimal? BoughtPrice { get; init; }

    /// <exception cref="BadInputException">Something is missing or cannot be.</exception>
    public PlanRequest ToRequest(HomeReader home, NodaTime.Instant now)
    {
        var lot = LotOf(home, now);
        return new(
            WantedPlants(),
            Germination is { } share ? Above("germination", share) : null,
            lot,
            Above("survival", Survival ?? 1),
            Between(Assurance ?? DefaultAssurance),
            In("perCell", Bounds.SeedsOfCell, PerCell),
            ReadOutlay(lot),
            In("boughtPrice", Bounds.Price, BoughtPrice),
            [.. NotCounted()]);
    }

    /// <summary>What so many seeds will give, instead of how many are needed.</summary>
    /// <exception cref="BadInputException">Something is missing or cannot be, or plants are asked for too.</exception>
    public SeedYield ToYield(int seeds, HomeReader home, NodaTime.Instant now)
    {
        if (Plants is not null || Harvest is not null || Yield is not null || PerCell is not null)
        {
            throw BadInputException.In("seeds", "Say how many seeds you have, or what you want of them, and not both.");
        }

        return SeedYield.Of(seeds, LotOf(home, now), Germination is { } share ? Above("germination", share) : null,
            Above("survival", Survival ?? 1));
    }

    private LotState? LotOf(HomeReader home, NodaTime.Instant now)
    {
        var lot = Lot is { Length: > 0 } name ? BadInputException.In("lot", () => home.At(now).Seeds.Require(name)) : null;
        return (lot is null) == (Germination is null)
            ? throw new BadInputException("Say how much comes up: a share, or a lot, and not both.") { Field = "germination",
                Hint = "Write --germination 0.8, or --lot with the name of a lot." }
            : lot;
    }

    private int WantedPlants() => BadInputException.In("plants", () => Bounds.Plants.Require(AskedPlants()));

    private int AskedPlants() => (Plants, In("harvest", Bounds.Amount, Harvest), In("yield", Bounds.Amount, Yield)) switch
    {
        ({ } wanted, null, null) => wanted,
        (null, { } amount, { } each) => Core.Plans.Harvest.Plants(amount, each),
        _ => throw new BadInputException("Say how many plants, or how much harvest and what one plant gives.") { Field = "plants",
            Hint = "Write --plants 12, or --harvest 20 --yield 2.5; as in: chamber plan --plants 12 --germination 0.8" },
    };

    private Outlay? ReadOutlay(LotState? lot)
    {
        decimal? ofLot = lot?.Lot is { Price: { } price } paid && (paid.Bought ?? paid.Counted) is > 0 and var seeds ? price / seeds : null;
        var outlay = new Outlay
        {
            Seeds = 0,
            SeedPrice = In("seedPrice", Bounds.Price, SeedPrice) ?? ofLot ?? 0,
            MixLitres = In("mixLitres", Bounds.Litres, MixLitres) ?? 0,
            MixPrice = In("mixPrice", Bounds.Price, MixPrice) ?? 0,
            Watts = In("watts", Bounds.Watts, Watts) ?? 0,
            Hours = In("heatHours", Bounds.HeatHours, HeatHours) ?? 0,
            KilowattHourPrice = In("kwhPrice", Bounds.Price, KwhPrice) ?? 0,
            Containers = In("potsPrice", Bounds.Price, PotsPrice) ?? 0,
        };
        var isAsked = SeedPrice is not null || MixLitres is not null || MixPrice is not null || Watts is not null || HeatHours is not null
            || KwhPrice is not null || PotsPrice is not null || BoughtPrice is not null;
        return isAsked || ofLot is not null ? outlay : null;
    }

    // A part of a cost whose other parts are missing would be reckoned as nothing without a word.
    private IEnumerable<string> NotCounted()
    {
        if (MixLitres is null != MixPrice is null)
        {
            yield return MixLitres is null ? "The mix is not counted: how many litres of it (--mix-litres)?"
                : "The mix is not counted: what does a litre of it cost (--mix-price)?";
        }

        string[] missing =
        [
            .. Watts is null ? ["--watts"] : Array.Empty<string>(),
            .. HeatHours is null ? ["--heat-hours"] : Array.Empty<string>(),
            .. KwhPrice is null ? ["--kwh-price"] : Array.Empty<string>(),
        ];
        if (missing.Length is 1 or 2)
        {
            yield return $"Heat is not counted: say {string.Join(" and ", missing)} too.";
        }
    }

    private static double Above(string field, double share) => share switch
    {
        > 0 and <= 1 => share,
        0 => throw BadInputException.In(field, $"{field} 0: nothing would come of it; write a share above 0."),
        _ => throw BadInputException.In(field, $"{field}: a share lies between 0 and 1."),
    };

    private static double Between(double share) => share is > 0 and < 1
        ? share
        : throw BadInputException.In("assurance", "assurance must be above 0 and below 1, since nothing is certain. Write 0.95.");

    private static T? In<T>(string field, Bound bound, T? number)
        where T : struct, INumber<T> => number is { } told ? BadInputException.In(field, () => bound.Require(told)) : null;
}

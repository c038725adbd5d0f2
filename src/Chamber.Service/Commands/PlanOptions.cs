using System.CommandLine;
using Chamber.Core.Plans;
using Chamber.Service.Home;
using Chamber.Service.Words;

namespace Chamber.Service.Commands;

/// <summary>The options of <see cref="PlanVerb"/>.</summary>
internal sealed class PlanOptions
{
    private const double AssuranceUnlessTold = 0.9;

    private readonly Option<int?> plants = Typed.Option<int?>("--plants", "N", "How many plants you want.", text => ShareText.Count(text));
    private readonly Option<double?> harvest = Typed.Option<double?>("--harvest", "AMOUNT", "How much you want to harvest, in any unit; with --yield instead of --plants.", text => ShareText.Positive(text));
    private readonly Option<double?> yield = Typed.Option<double?>("--yield", "AMOUNT", "What one plant gives you, in the same unit.", text => ShareText.Positive(text));
    private readonly Option<double?> germination = Typed.Option<double?>("--germination", "SHARE", "The share that comes up, as 0.8 or 80%.", text => ShareText.Parse(text));
    private readonly Option<string?> lot = new("--lot") { HelpName = "LOT", Description = "A lot instead: its share with all its doubt." };
    private readonly Option<double?> survival = Typed.Option<double?>("--survival", "SHARE", "Of those up, the share that lives to be planted out. All unless told.", text => ShareText.Parse(text));
    private readonly Option<double?> assurance = Typed.Option<double?>("--assurance", "SHARE", "How sure to be. 0.9 unless told.", text => ShareText.Parse(text));
    private readonly Option<int?> perCell = Typed.Option<int?>("--per-cell", "N", "Seeds in a cell, each cell thinned to one plant.", text => ShareText.Count(text));
    private readonly Option<decimal?> seedPrice = Money("--seed-price", "Price of one seed. Unless told, that of the lot.");
    private readonly Option<double?> mixLitres = Typed.Option<double?>("--mix-litres", "L", "Litres of mix in all.", text => ShareText.Positive(text));
    private readonly Option<decimal?> mixPrice = Money("--mix-price", "Price of a litre of mix.");
    private readonly Option<double?> watts = Typed.Option<double?>("--watts", "W", "Power of mat and lamp.", text => ShareText.Positive(text));
    private readonly Option<double?> heatHours = Typed.Option<double?>("--heat-hours", "H", "Hours that they run.", text => ShareText.Positive(text));
    private readonly Option<decimal?> kwhPrice = Money("--kwh-price", "Price of a kWh.");
    private readonly Option<decimal?> pots = Money("--pots-price", "Price of pots and trays for this season.");
    private readonly Option<decimal?> bought = Money("--bought-price", "Price of a bought plant, to compare with.");

    public void AddTo(Verb verb)
    {
        foreach (Option option in (Option[])[plants, harvest, yield, germination, lot, survival, assurance, perCell, seedPrice, mixLitres, mixPrice, watts, heatHours, kwhPrice, pots, bought])
        {
            verb.Add(option);
        }
    }

    public PlanRequest Read(Invocation invocation)
    {
        var parse = invocation.Parse;
        var named = parse.GetValue(lot) is { } name ? new HomeSeeds(invocation.Home, invocation.Now).Require(name) : null;
        if ((named is null) == (parse.GetValue(germination) is null))
        {
            throw new BadInputException("Say how much comes up: --germination 0.8, or --lot with the name of a lot.");
        }

        return new(
            Plants(parse),
            parse.GetValue(germination) is { } share ? Above(share, "--germination") : null,
            named,
            Above(parse.GetValue(survival) ?? 1, "--survival"),
            Between(parse.GetValue(assurance) ?? AssuranceUnlessTold),
            parse.GetValue(perCell),
            ReadOutlay(parse, named),
            parse.GetValue(bought));
    }

    private int Plants(ParseResult parse) => (parse.GetValue(plants), parse.GetValue(harvest), parse.GetValue(yield)) switch
    {
        ({ } wanted, null, null) => wanted,
        (null, { } amount, { } each) => Harvest.Plants(amount, each),
        _ => throw new BadInputException("Say how many plants: --plants 12, or --harvest 20 --yield 2.5."),
    };

    private Outlay? ReadOutlay(ParseResult parse, LotState? named)
    {
        decimal? ofLot = named?.Lot is { Price: { } price } paid && (paid.Bought ?? paid.Counted) is > 0 and var seeds ? price / seeds : null;
        var price0 = parse.GetValue(seedPrice) ?? ofLot;
        var any = price0 is not null || parse.GetValue(mixPrice) is not null || parse.GetValue(kwhPrice) is not null || parse.GetValue(pots) is not null || parse.GetValue(bought) is not null;
        return !any ? null : new Outlay
        {
            Seeds = 0,
            SeedPrice = price0 ?? 0,
            MixLitres = parse.GetValue(mixLitres) ?? 0,
            MixPrice = parse.GetValue(mixPrice) ?? 0,
            Watts = parse.GetValue(watts) ?? 0,
            Hours = parse.GetValue(heatHours) ?? 0,
            KilowattHourPrice = parse.GetValue(kwhPrice) ?? 0,
            Containers = parse.GetValue(pots) ?? 0,
        };
    }

    private static Option<decimal?> Money(string name, string description) => Typed.Option<decimal?>(name, "MONEY", description, text => ShareText.Money(text));

    private static double Above(double share, string name) => share > 0 ? share : throw new BadInputException($"{name} 0: nothing would come of it; write a share above 0.");

    private static double Between(double share) => share is > 0 and < 1 ? share : throw new BadInputException("--assurance lies between 0 and 1, both left out: nothing is certain. Write 0.95.");
}

using System.CommandLine;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Seed;

/// <summary>The options of <see cref="PlanVerb"/>.</summary>
internal sealed class PlanOptions
{
    private readonly Option<int?> plants = Typed.Option<int?>("--plants", "N", "How many plants you want.",
        text => ShareText.Count(text, Core.Bounds.Plants));
    private readonly Option<int?> seeds = Typed.Option<int?>("--seeds", "N", "Instead, how many seeds you have: what they will give.",
        text => ShareText.Count(text, Core.Bounds.Seeds));
    private readonly Option<double?> harvest =
        Typed.Option<double?>("--harvest", "AMOUNT", "How much you want to harvest, in any unit; use with --yield, instead of --plants.",
        text => ShareText.Positive(text, Core.Bounds.Amount));
    private readonly Option<double?> yield = Typed.Option<double?>("--yield", "AMOUNT",
        "What one plant yields, in the same unit. With --lot it is kept for that crop.",
        text => ShareText.Positive(text, Core.Bounds.Amount));
    private readonly Option<double?> germination =
        Typed.Option<double?>("--germination", "SHARE", "The share that comes up: 0.8 or 80%.", text => ShareText.Parse(text));
    private readonly Option<string?> lot = new("--lot") { HelpName = "LOT", Description = "Instead, a lot: its share, with its doubt." };
    private readonly Option<double?> survival = Typed.Option<double?>("--survival", "SHARE",
        "The share of seedlings that live to be planted out. It is kept; default: as said last, or all.", text => ShareText.Parse(text));
    private readonly Option<double?> assurance = Typed.Option<double?>("--assurance", "SHARE", "How sure you want to be. Default: 0.9.",
        text => ShareText.Parse(text));
    private readonly Option<int?> perCell = Typed.Option<int?>("--per-cell", "N", "Seeds in a cell; each cell is thinned to one plant.",
        text => ShareText.Count(text, Core.Bounds.SeedsOfCell));
    private readonly Option<decimal?> seedPrice = Money("--seed-price", "Price of one seed. Default: that of the lot.");
    private readonly Option<double?> mixLitres =
        Typed.Option<double?>("--mix-litres", "L", "Litres of mix in all.", text => ShareText.Positive(text, Core.Bounds.Litres));
    private readonly Option<decimal?> mixPrice = Money("--mix-price", "Price of a litre of mix. It is kept.");
    private readonly Option<double?> watts = Typed.Option<double?>("--watts", "W", "Power of mat and lamp, in watts.",
        text => ShareText.Positive(text, Core.Bounds.Watts));
    private readonly Option<double?> heatHours =
        Typed.Option<double?>("--heat-hours", "H", "How many hours they run.", text => ShareText.Positive(text, Core.Bounds.HeatHours));
    private readonly Option<decimal?> kwhPrice = Money("--kwh-price", "Price of a kWh. It is kept.");
    private readonly Option<decimal?> pots = Money("--pots-price", "Price of pots and trays for this season.");
    private readonly Option<decimal?> bought = Money("--bought-price", "Price of a bought plant, for comparison. It is kept.");

    public void AddTo(Verb verb)
    {
        foreach (Option option in (Option[])[plants, seeds, harvest, yield, germination, lot, survival, assurance, perCell, seedPrice,
            mixLitres,
            mixPrice, watts, heatHours, kwhPrice, pots, bought])
        {
            verb.Add(option);
        }
    }

    /// <summary>How many seeds there are; null where plants are asked for.</summary>
    public int? Seeds(ParseResult parse) => parse.GetValue(seeds);

    public PlanQuestion Read(ParseResult parse) => new()
    {
        Plants = parse.GetValue(plants),
        Harvest = parse.GetValue(harvest),
        Yield = parse.GetValue(yield),
        Germination = parse.GetValue(germination),
        Lot = parse.GetValue(lot),
        Survival = parse.GetValue(survival),
        Assurance = parse.GetValue(assurance),
        PerCell = parse.GetValue(perCell),
        SeedPrice = parse.GetValue(seedPrice),
        MixLitres = parse.GetValue(mixLitres),
        MixPrice = parse.GetValue(mixPrice),
        Watts = parse.GetValue(watts),
        HeatHours = parse.GetValue(heatHours),
        KwhPrice = parse.GetValue(kwhPrice),
        PotsPrice = parse.GetValue(pots),
        BoughtPrice = parse.GetValue(bought),
    };

    private static Option<decimal?> Money(string name, string description) =>
        Typed.Option<decimal?>(name, "MONEY", description, text => ShareText.Money(text));
}

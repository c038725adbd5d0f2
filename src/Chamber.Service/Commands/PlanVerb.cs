using System.Globalization;
using Chamber.Core.Plans;
using Chamber.Core.Statistics;
using Chamber.Service.Home;

namespace Chamber.Service.Commands;

/// <summary>How many seeds to sow for the plants that are wanted, and what a plant will cost.</summary>
internal static class PlanVerb
{
    public static Verb Create()
    {
        var options = new PlanOptions();
        var verb = new Verb(
            "plan",
            "How many seeds to sow for the plants you want, and what a plant costs.",
            "chamber plan --plants 12 --germination 0.8 --assurance 0.95",
            "chamber plan --plants 12 --lot tomato-24 --survival 85% --per-cell 2",
            "chamber plan --harvest 20 --yield 2.5 --germination 80% --seed-price 0.10 --watts 18 --heat-hours 336 --kwh-price 0.30 --bought-price 2.50");
        options.AddTo(verb);
        return verb.Does(invocation =>
        {
            var request = options.Read(invocation.Parse).ToRequest(invocation.Home, invocation.Now);
            var plan = Plan.Of(request);
            invocation.Answer(plan, screen => Show(screen, request, plan));
        });
    }

    private static void Show(Screen screen, PlanRequest request, Plan plan)
    {
        screen.Headline(plan.Cells is { } cells
            ? $"Sow {plan.Sow} seeds, {plan.PerCell} in each of {cells} cells, and thin each to one."
            : $"Sow {plan.Sow} {(plan.Sow == 1 ? "seed" : "seeds")}.");
        var share = plan.Germination is { Low: var low, High: var high } && low < high
            ? $"{RangeText.Percent(low, plan.Germination.Mid, high)} of {request.Lot?.Lot.Id} come up"
            : $"{RangeText.Percent(plan.Germination.Mid)} come up";
        var lives = plan.Survival < 1 ? $" and {RangeText.Percent(plan.Survival)} of those live to be planted out" : string.Empty;
        screen.Say(string.Create(CultureInfo.InvariantCulture, $"At least {plan.Plants} {(plan.Plants == 1 ? "plant" : "plants")} come of it {plan.Chance * 100:0.#} times in 100, if {share}{lives}."));
        if (request.Lot is { } lot && plan.Sow > lot.Left)
        {
            screen.Warn($"Only {lot.Left} seeds of {lot.Lot.Id} are left.");
        }

        if (plan.Cost is { } cost)
        {
            ShowCost(screen, cost);
        }
    }

    private static void ShowCost(Screen screen, CostAnswer cost)
    {
        screen.Say();
        if (cost.Total == 0)
        {
            screen.Say("What a plant costs you is not known: tell it with --seed-price, --mix-litres and --mix-price, --watts, --heat-hours and --kwh-price, or --pots-price.");
            return;
        }

        var parts = new[]
        {
            (cost.Seed, $"seed {ShareText.Show(cost.Seed)}"),
            (cost.Mix, $"mix {ShareText.Show(cost.Mix)}"),
            (cost.Heat, $"heat {ShareText.Show(cost.Heat)} for {PlainText.Number(cost.KilowattHours)} kWh"),
            (cost.Containers, $"pots {ShareText.Show(cost.Containers)}"),
        };
        screen.Say($"A plant costs {ShareText.Show(cost.EachPlant)} ({string.Join(", ", parts.Where(part => part.Item1 > 0).Select(part => part.Item2).DefaultIfEmpty("nothing"))} in all).");
        if (cost is { BoughtEach: { } bought, Saved: { } saved })
        {
            screen.Say(saved >= 0
                ? $"Against plants bought at {ShareText.Show(bought)}, that saves {ShareText.Show(saved)}."
                : $"Plants bought at {ShareText.Show(bought)} would be cheaper by {ShareText.Show(-saved)}.");
        }
    }
}

/// <summary>What was asked.</summary>
/// <param name="Plants">Plants wanted.</param>
/// <param name="Germination">A share that is taken as known; null when a lot is named.</param>
/// <param name="Lot">The lot whose share is believed; null when a share is given.</param>
/// <param name="Survival">Of those up, the share planted out.</param>
/// <param name="Assurance">How sure to be.</param>
/// <param name="PerCell">Seeds in a cell; null for single sowing.</param>
/// <param name="Outlay">Prices; the seeds are filled in.</param>
/// <param name="BoughtEach">The price of a bought plant; null without.</param>
internal sealed record PlanRequest(
    int Plants,
    double? Germination,
    LotState? Lot,
    double Survival,
    double Assurance,
    int? PerCell,
    Outlay? Outlay,
    decimal? BoughtEach);

/// <summary>The answer.</summary>
internal sealed record Plan(
    int Sow,
    double Chance,
    int Plants,
    int? Cells,
    int? PerCell,
    ShareInterval Germination,
    double Survival,
    double Assurance,
    CostAnswer? Cost)
{
    /// <exception cref="BadInputException">No number of seeds is enough.</exception>
    public static Plan Of(PlanRequest request)
    {
        var count = Count(request) ?? throw new BadInputException(
            $"No sowing makes {request.Plants} plants {RangeText.Percent(request.Assurance)} sure with this seed: test it, or take other seed.");
        var sow = count.Sow * (request.PerCell ?? 1);
        return new(
            sow,
            count.Chance,
            request.Plants,
            request.PerCell is null ? null : count.Sow,
            request.PerCell,
            request.Lot?.Belief.Share.Interval() ?? new(request.Germination!.Value, request.Germination.Value, request.Germination.Value),
            request.Survival,
            request.Assurance,
            request.Outlay is { } outlay ? CostAnswer.Of(outlay with { Seeds = sow }, request.Plants, request.BoughtEach) : null);
    }

    private static SowCount? Count(PlanRequest request) => (request.Lot?.Belief.Share, request.PerCell) switch
    {
        (null, null) => SowCount.For(request.Plants, request.Germination!.Value * request.Survival, request.Assurance),
        (null, { } cell) => SowCount.Cells(request.Plants, cell, request.Germination!.Value, request.Survival, request.Assurance),
        ({ } belief, null) => SowCount.For(request.Plants, belief, request.Survival, request.Assurance),
        ({ } belief, { } cell) => SowCount.Cells(request.Plants, cell, belief, request.Survival, request.Assurance),
    };
}

/// <summary>What it costs, for programs.</summary>
internal sealed record CostAnswer(
    decimal Seed, decimal Mix, decimal Heat, decimal Containers, decimal Total, decimal EachPlant, double KilowattHours, decimal? BoughtEach, decimal? Saved)
{
    public static CostAnswer Of(Outlay outlay, int plants, decimal? boughtEach)
    {
        var cost = PlantCost.Of(outlay, plants);
        return new(
            Cents(cost.Seed), Cents(cost.Mix), Cents(cost.Heat), Cents(cost.Containers), Cents(cost.Total), Cents(cost.EachPlant ?? 0),
            PlantCost.KilowattHours(outlay.Watts, outlay.Hours),
            boughtEach,
            boughtEach is { } each ? Cents(cost.Saved(each)) : null);
    }

    private static decimal Cents(decimal amount) => Math.Round(amount, 2, MidpointRounding.AwayFromZero);
}

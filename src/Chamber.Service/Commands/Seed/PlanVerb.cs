using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Seed;

/// <summary>How many seeds to sow for the plants that are wanted, and what a plant will cost.</summary>
internal static class PlanVerb
{
    public static Verb Create()
    {
        var options = new PlanOptions();
        var verb = new Verb(
            "plan",
            "Says how many seeds to sow for the plants you want and what a plant costs, or what the seeds you have will give.",
            "chamber plan --plants 12 --germination 0.8 --assurance 0.95",
            "chamber plan --plants 12 --lot tomato-24 --survival 85% --per-cell 2",
            "chamber plan --seeds 46 --lot tomato-24",
            "chamber plan --harvest 20 --yield 2.5 --germination 80% --seed-price 0.10 --watts 18 --heat-hours 336 --kwh-price 0.30 "
                + "--bought-price 2.50");
        options.AddTo(verb);
        return verb.LooksBack().Does(invocation =>
        {
            if (options.Seeds(invocation.Parse) is { } seeds)
            {
                var yield = options.Read(invocation.Parse).ToYield(seeds, invocation.Home, invocation.Now);
                invocation.Answer(yield, screen => Show(screen, yield));
                return;
            }

            var request = WithKept(invocation, options.Read(invocation.Parse)).ToRequest(invocation.Home, invocation.Now);
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
        screen.Say(string.Create(CultureInfo.InvariantCulture,
            $"You get at least {CountText.Of(plan.Plants, "plant")} {TimesIn100(plan.Chance)} times in 100, if "
            + $"{share}{lives}."));
        if (request.Lot is { } lot && plan.Sow > lot.SeedsLeft)
        {
            screen.Warn(LotWords.Only(lot.Lot.Id, lot.SeedsLeft));
        }

        if (plan.Cost is { } cost)
        {
            ShowCost(screen, cost);
        }

        foreach (var line in plan.NotCounted)
        {
            screen.Warn(line);
        }
    }

    // A price, a yield or a survival is said once: what was said now is kept, and what was said before is used where the amount that it
    // belongs to is known.
    private static PlanQuestion WithKept(Invocation invocation, PlanQuestion asked)
    {
        KeptOptions.Keep(invocation, sheet =>
        {
            if (asked is { Yield: { } yield, Lot: { Length: > 0 } of } && yield > 0)
            {
                sheet.Yields[invocation.Home.At(invocation.Now).Seeds.Require(of).Crop.Id.Text] = yield;
            }

            sheet.Survival = asked.Survival is { } share ? share * 100 : sheet.Survival;
            sheet.MixPrice = asked.MixPrice ?? sheet.MixPrice;
            sheet.KwhPrice = asked.KwhPrice ?? sheet.KwhPrice;
            sheet.BoughtPrice = asked.BoughtPrice ?? sheet.BoughtPrice;
        });
        var kept = PlanSheet.Load(invocation.Home.Ledger, invocation.Settings.Prices);
        var crop = asked.Lot is { Length: > 0 } lot ? invocation.Home.At(invocation.Now).Seeds.Require(lot).Crop : null;
        var costs = asked.SeedPrice is not null || asked.MixLitres is not null || asked.Watts is not null || asked.PotsPrice is not null;
        return asked with
        {
            Survival = asked.Survival ?? kept.Survival / 100,
            Yield = asked.Yield ?? (asked.Harvest is null || crop is null ? null : kept.YieldOf(crop.Id, invocation.Catalog)),
            MixPrice = asked.MixPrice ?? (asked.MixLitres is null ? null : kept.MixPrice),
            KwhPrice = asked.KwhPrice ?? (asked.Watts is null && asked.HeatHours is null ? null : kept.KwhPrice),
            BoughtPrice = asked.BoughtPrice ?? (costs ? kept.BoughtPrice : null),
        };
    }

    private static void Show(Screen screen, SeedYield yield)
    {
        var plants = yield.Low == yield.High ? CountText.Of(yield.Low, "plant")
            : yield.High == 1 ? "0 or 1 plant" : $"{yield.Low} to {yield.High} plants";
        screen.Headline($"{CountText.Of(yield.Seeds, "seed")}{(yield.Lot is { } lot ? $" of {lot}" : "")} will give {plants}"
            + $"{(yield.Low == yield.High ? "" : $", most likely about {yield.Mid}")}.");
        var share = yield.Germination is { Low: var low, High: var high } && low < high
            ? string.Create(CultureInfo.InvariantCulture, $"{low * 100:0} to {high * 100:0} %") : RangeText.Percent(yield.Germination.Mid);
        var lives = yield.Survival < 1 ? $" and {RangeText.Percent(yield.Survival)} of those live" : "";
        screen.Say($"Eight in ten such sowings fall within this range, if {share} come up{lives}.");
        if (yield.Left is { } left && yield.Seeds > left)
        {
            screen.Warn(LotWords.Only(yield.Lot!.Value, left));
        }
    }

    // Only close to certain does a tenth of a hundredth matter.
    private static string TimesIn100(double chance) => chance is > 0.985 and < 1
        ? Math.Min(99.9, chance * 100).ToString("0.#", CultureInfo.InvariantCulture)
        : (chance * 100).ToString("0", CultureInfo.InvariantCulture);

    private static void ShowCost(Screen screen, CostAnswer cost)
    {
        screen.Say();
        if (cost.Total == 0)
        {
            screen.Say("What a plant costs is not known: give --seed-price, --mix-litres and --mix-price, --watts, "
                + "--heat-hours and --kwh-price, or --pots-price.");
            return;
        }

        var parts = new[]
        {
            (cost.Seed, $"seed {ShareText.Show(cost.Seed)}"),
            (cost.Mix, $"mix {ShareText.Show(cost.Mix)}"),
            (cost.Heat, $"heat {ShareText.Show(cost.Heat)} for {PlainText.Number(cost.KilowattHours)} kWh"),
            (cost.Containers, $"pots {ShareText.Show(cost.Containers)}"),
        };
        screen.Say($"A plant costs {ShareText.Show(cost.EachPlant)} "
            + $"({string.Join(", ", parts.Where(part => part.Item1 > 0).Select(part => part.Item2).DefaultIfEmpty("nothing"))} in all).");
        if (cost is { BoughtEach: { } bought, Saved: { } saved })
        {
            screen.Say(saved >= 0
                ? $"Against plants bought at {ShareText.Show(bought)}, that saves {ShareText.Show(saved)}."
                : $"Plants bought at {ShareText.Show(bought)} would be cheaper by {ShareText.Show(-saved)}.");
        }
    }
}

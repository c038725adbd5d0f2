using Chamber.Core;
using Chamber.Core.Plans;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>What the plan comes to for one crop.</summary>
/// <param name="Crop">Its name.</param>
/// <param name="Plants">How many are wanted.</param>
/// <param name="Sow">How many seeds to sow, and how sure that is.</param>
/// <param name="SowOn">When to sow.</param>
/// <param name="UpOn">When they are up.</param>
/// <param name="OutOn">When to plant out.</param>
/// <param name="Cost">What a plant costs, and for what; empty when nothing is known of prices.</param>
/// <param name="Warnings">What is likely to go wrong.</param>
public sealed record PlanLine(string Crop, int Plants, string Sow, string SowOn, string UpOn, string OutOn, string Cost,
    IReadOnlyList<string> Warnings);

/// <summary>A plan worked out.</summary>
/// <param name="Lines">Crop by crop.</param>
/// <param name="Room">What there is to say of the room in the light; empty when there is enough.</param>
/// <param name="Weeks">Pots in the light, week by week.</param>
/// <param name="Money">What all of it costs, and what that saves; empty when nothing is known of prices.</param>
public sealed record PlanResult(IReadOnlyList<PlanLine> Lines, string Room, IReadOnlyList<LightWeek> Weeks, string Money);

/// <summary>Works out a season: how many seeds, when, what it costs, and whether there is room.</summary>
internal sealed class SeasonPlanner(HomeReader home, Instant now)
{
    // Without a lot: two in three is what a careful grower counts on of bought seed. Common practice, no source.
    private const double ShareUnknown = 0.67;
    private const double Assurance = 0.9;

    private const string HarvestWords =
        "A harvest needs two numbers above 0: how much you want, and what one plant gives, in the same unit.";

    private LocalDate Today => now.InZone(home.Zone).Date;

    /// <exception cref="BadInputException">Something in it cannot be.</exception>
    public PlanResult Of(PlanSheet sheet)
    {
        var frost = new LastFrost(sheet.LastFrost is { } day ? LocalDate.FromDateOnly(day)
            : throw BadInputException.In("lastFrost", "Say when your last frost is: in half of all years it is earlier."), 0.5);
        var rows = sheet.Rows.Where(row => row.Crop.Length > 0).ToList();
        if (rows.Count == 0)
        {
            throw BadInputException.In("rows", "Add at least one crop.");
        }

        BadInputException.In("rows", () => Bounds.CropsAtOnce.Require(rows.Count));
        BadInputException.In("lastFrost", () => Bounds.Year.Require(sheet.LastFrost!.Value.Year));
        var chosen = sheet.Spot.Length > 0 ? BadInputException.In("spot", () => home.RequireSpot(sheet.Spot)) : null;
        var wanted = rows.ConvertAll(row => new Wanted(InRow(sheet, row, "crop", () => home.Catalog.Require(row.Crop)),
            InRow(sheet, row, "plants", () => Plants(sheet, row))));
        foreach (var row in rows.Where(row => row.Lot.Length > 0))
        {
            InRow(sheet, row, "lot", () => home.At(now).Seeds.Require(row.Lot));
        }

        var together = wanted.Select(one => one.Crop).ToArray();
        var dates = wanted.ConvertAll(one => CropDates.Of(home, now, one, frost, chosen, together));
        var weeks = LightRoom.Weeks([.. dates.Select(one => one.Lit).OfType<LitPots>()],
            BadInputException.In("lightRoom", () => Bounds.LightRoom.Require(sheet.LightRoom)));
        var heated = SharedDays.Of(
            dates.ConvertAll(one => chosen is not null && one.Dates is { } day ? (day.Aim, day.UpTo) : ((LocalDate, LocalDate)?)null));
        var plants = wanted.Sum(one => one.Plants);
        var plans = rows.Select((row, i) => Plan.Of(Question(sheet, row, wanted[i].Plants, heated[i], plants).ToRequest(home, now)))
            .ToList();
        return new([.. rows.Select((row, i) => Line(row, dates[i], plans[i]))], Room(weeks), weeks,
            Money(plans, sheet.BoughtPrice, plants));
    }

    // The same crop may stand in several rows.
    private static T InRow<T>(PlanSheet sheet, PlanRow row, string field, Func<T> read)
    {
        try
        {
            return BadInputException.In(field, read);
        }
        catch (BadInputException problem)
        {
            throw new BadInputException(problem.Message, problem) { Kind = problem.Kind, Hint = problem.Hint,
                Field = $"rows[{sheet.Rows.IndexOf(row)}].{problem.Field}" };
        }
    }

    private int Plants(PlanSheet sheet, PlanRow row) =>
        row.Plants = BadInputException.In("plants", () => Bounds.Plants.Require(Asked(sheet, row)));

    private static double? Amount(string field, double? number) =>
        number is { } told ? BadInputException.In(field, () => Bounds.Amount.Require(told)) : null;

    private int Asked(PlanSheet sheet, PlanRow row) => (Amount("harvest", row.Harvest),
        Amount("yield", row.Yield ?? (row.Harvest is null ? null : sheet.YieldOf(home.Catalog.Require(row.Crop).Id, home.Catalog)))) switch
    {
        (null, null) => row.Plants,
        ({ } amount, { } each) => Harvest.Plants(amount, each),
        (null, _) => throw BadInputException.In("harvest", HarvestWords),
        _ => throw BadInputException.In("yield", HarvestWords),
    };

    private static PlanQuestion Question(PlanSheet sheet, PlanRow row, int plants, double heatedDays, int plantsOfAll)
    {
        var named = row.Lot.Length > 0;
        return new()
        {
            Plants = plants,
            Lot = named ? row.Lot : null,
            Germination = named ? null : ShareUnknown,
            Survival = sheet.Survival / 100,
            Assurance = Assurance,
            MixLitres = sheet.PotLitres is { } litres ? plants * BadInputException.In("potLitres", () => Bounds.PotLitres.Require(litres))
                : null,
            MixPrice = sheet.MixPrice,
            Watts = sheet.Watts,
            HeatHours = heatedDays * NodaConstants.HoursPerDay,
            KwhPrice = sheet.KwhPrice,
            PotsPrice = sheet.PotsPrice * plants / plantsOfAll,
            BoughtPrice = sheet.BoughtPrice,
        };
    }

    private PlanLine Line(PlanRow row, CropDates crop, Plan plan)
    {
        List<string> warnings = [.. crop.Mistakes.Select(mistake => mistake.Words)];
        if (row.Lot.Length > 0 && home.At(now).Seeds.Require(row.Lot) is { } lot && plan.Sow > lot.SeedsLeft)
        {
            warnings.Add(LotWords.Only(lot.Lot.Id, lot.SeedsLeft));
        }

        return new(
            crop.Wanted.Crop.CommonName,
            crop.Wanted.Plants,
            CountText.Of(plan.Sow, "seed"),
            crop.Dates is { } dates ? RangeText.Dates(dates.StartOn, dates.SowBy, Today) : crop.InPlace is { } ground
                ? $"{RangeText.Dates(ground.From, ground.To, Today)}, in its place" : "in its place",
            crop.Dates is { } up ? RangeText.Dates(up.UpFrom, up.UpTo, Today) : string.Empty,
            crop.Dates is { } outside ? RangeText.Dates(outside.PlantOutFrom, outside.PlantOutTo, Today) : string.Empty,
            plan.Cost is { Total: > 0 } cost ? ShareText.Show(cost.EachPlant) : string.Empty,
            warnings);
    }

    private static string Money(IReadOnlyCollection<Plan> plans, decimal? boughtEach, int plants)
    {
        var costs = plans.Select(plan => plan.Cost).OfType<CostAnswer>().ToList();
        var total = costs.Sum(cost => cost.Total);
        if (total == 0)
        {
            return string.Empty;
        }

        (decimal Amount, string Words)[] parts =
        [
            (costs.Sum(cost => cost.Seed), "seed {0}"),
            (costs.Sum(cost => cost.Mix), "mix {0}"),
            (costs.Sum(cost => cost.Heat), $"electricity {{0}} for {PlainText.Number(costs.Sum(cost => cost.KilowattHours))} kWh"),
            (costs.Sum(cost => cost.Containers), "pots {0}"),
        ];
        var shares = parts.Where(part => part.Amount > 0)
            .Select(part => part.Words.Replace("{0}", ShareText.Show(part.Amount), StringComparison.Ordinal));
        var said = $"All of it costs {ShareText.Show(total)}: {string.Join(", ", shares)}.";
        return boughtEach is not { } each ? said : plants * each - total is >= 0 and var saved
            ? $"{said} Bought, these {plants} plants would cost {ShareText.Show(plants * each)}: it saves {ShareText.Show(saved)}."
            : $"{said} Bought, these {plants} plants would cost {ShareText.Show(plants * each)}, which is less.";
    }

    private string Room(IReadOnlyList<LightWeek> weeks) => weeks.Where(week => week.Over > 0).ToList() is [var first, ..] full
        ? $"From the week of {TimeText.ShowDay(first.Week, Today)} there is not room in the light for all: up to "
            + $"{full.Max(week => week.Over)} pots too many. Sow fewer, or some later."
        : string.Empty;
}

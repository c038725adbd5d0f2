using Chamber.Core.Plans;
using Chamber.Core.Statistics;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Plots;
using Chamber.Service.Reviews;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>Planning: how many, when, where, and whether a difference was chance. Nothing is written down.</summary>
internal static class PlanRoutes
{
    private const int DefaultRoom = 20;

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        writes.MapPut("/season-plan", (PageHome page, PlanSheet sheet) => SaveSheetAsync(page, sheet)).WithTags("Plans")
            .WithName("SaveSeasonPlan").WithSummary("Keeps the plan for the season, the one that the page shows, and works it out.");
        reads = reads.MapGroup(string.Empty).WithTags("Plans").ProducesProblem(StatusCodes.Status400BadRequest)
            .ProducesProblem(StatusCodes.Status409Conflict);
        reads.MapGet("/plan", (PageHome page, [AsParameters] PlanQuery asked) =>
            Plan.Of(asked.ToQuestion().ToRequest(page.Read(), page.Now)))
            .WithName("Plan").WithSummary("How many seeds to sow for the plants that are wanted, and what a plant costs.");
        reads.MapGet("/dates", (PageHome page, string[] crop, string? lastFrost, double? frostChance, string? spot, int? lightRoom) =>
            Dates(page, crop, lastFrost, frostChance, spot, lightRoom))
            .WithName("Dates").WithSummary(
                "When to sow, harden off and plant out (crop=tomato:12, once for each crop), and whether there is room in the light.");
        reads.MapGet("/week", (PageHome page, string? lastFrost) => Week(page, lastFrost))
            .WithName("Week").WithSummary("What can be sown this week from the home's own seed, and where.");
        reads.MapGet("/place", (PageHome page, string[]? crop, bool? newOnly, bool? indoors) =>
            Place(page.Read(), crop ?? [], newOnly ?? false, indoors ?? false))
            .WithName("Place").WithSummary("Which batch, or crop to be sown, goes on which spot, so that all together lose the least.");
        reads.MapGet("/season-plan", (PageHome page, Settings settings) => Sheet(page.Read(), settings.Prices))
            .WithName("SeasonPlan")
                .WithSummary("The plan for the season as it is kept, and what it comes to: seeds, dates, cost, room in the light.");
        reads.MapGet("/season", (PageHome page, Settings settings, int? year, decimal? boughtPrice, decimal? otherCosts) =>
            Season(page, settings, year, boughtPrice, otherCosts))
            .WithName("Season").WithSummary("Looks back on a season: spots, lots, methods, money, and what to do differently.");
        reads.MapGet("/compare", (PageHome page, string[]? counts, string[]? batches) => Compare(page, counts ?? [], batches ?? []))
            .WithName("Compare")
                .WithSummary("Whether of two counts (counts=11/14&counts=7/15) or two batches one did better, or chance did.")
                .ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static DatesAnswer Dates(PageHome page, string[] crops, string? lastFrost, double? frostChance, string? spot, int? lightRoom)
    {
        var home = page.Read();
        var wanted = BadInputException.In("crop", () => Core.Bounds.CropsAtOnce.Holds(crops.Length)
            ? Array.ConvertAll(crops, text => Wanted.Parse(home.Catalog, text))
            : throw new FormatException(crops.Length == 0 ? "Name at least one crop: crop=tomato:12."
            : Core.Bounds.CropsAtOnce.WhyNot(crops.Length)));
        var share = frostChance ?? 0.5;
        var frost = new LastFrost(
            Frost(page, lastFrost) ?? throw BadInputException.In("lastFrost", "lastFrost is missing."),
            share is > 0 and < 1 ? share : throw BadInputException.In("frostChance", "frostChance lies between 0 and 1, both left out."));
        var chosen = spot is null ? null : BadInputException.In("spot", () => home.RequireSpot(spot));
        var plans = Array.ConvertAll(wanted,
            one => CropDates.Of(home, home.Now, one, frost, chosen, Array.ConvertAll(wanted, other => other.Crop)));
        var room = BadInputException.In("lightRoom", () => Core.Bounds.LightRoom.Require(lightRoom ?? DefaultRoom));
        return new([.. plans.Select(plan => plan.Answer)], LightRoom.Weeks([.. plans.Select(plan => plan.Lit).OfType<LitPots>()], room));
    }

    // As it is asked now, or as somebody said it once.
    private static NodaTime.LocalDate? Frost(PageHome page, string? lastFrost) => lastFrost is null
        ? PlanSheet.NextLastFrost(page.Read().Ledger, page.Today)
        : BadInputException.In("lastFrost", () => DayText.Parse(lastFrost));

    private static WeekAnswer Week(PageHome page, string? lastFrost)
    {
        var home = page.Read();
        return WeekAnswer.Of(home, home.Now, Frost(page, lastFrost));
    }

    // A plan of which the day or the crops are not known yet comes to nothing, which is no error.
    private static List<PlacingAnswer> Place(HomeReader home, string[] crops, bool newOnly, bool indoors) =>
        [.. PlacingAnswer.Of(home, HomePlacing.Solve(home, home.Now, crops, newOnly, indoors))];

    private static SeasonPlanAnswer Sheet(HomeReader home, PriceSettings prices)
    {
        var sheet = PlanSheet.Load(home.Ledger, prices);
        return new(sheet, sheet.LastFrost is null || sheet.Rows.All(row => row.Crop.Length == 0) ? null
            : new SeasonPlanner(home, home.Now).Of(sheet));
    }

    private static Task<SeasonPlanAnswer> SaveSheetAsync(PageHome page, PlanSheet sheet) => page.WriteAsync((home, now) =>
    {
        var result = new SeasonPlanner(home, now).Of(sheet);
        sheet.Save(home.Writing(now).Choose);
        return new SeasonPlanAnswer(sheet, result);
    });

    private static SeasonAnswer Season(PageHome page, Settings settings, int? year, decimal? boughtPrice, decimal? otherCosts)
    {
        var home = page.Read();
        var asked = year ?? page.Today.Year;
        var reviews = new HomeReviews(home, home.Now, TemperatureScale.Celsius);
        var batches = reviews.All(SeasonWords.SeasonOf(asked, home.Zone));
        var prices = PlanSheet.PricesOf(home.Ledger, settings.Prices);
        var season = reviews.Season(batches, prices, Price("otherCosts", otherCosts) ?? 0,
            Price("boughtPrice", boughtPrice) ?? prices.BoughtPlant);
        return SeasonAnswer.Of(asked, batches.Count, season, batches.Select(one => one.Hit).OfType<Hit>());
    }

    private static CompareAnswer Compare(PageHome page, string[] counts, string[] batches)
    {
        if ((counts.Length, batches.Length) is not ((2, 0) or (0, 2)))
        {
            throw new BadInputException("Name two counts or two batches.") { Field = counts.Length > 0 ? "counts" : "batches" };
        }

        if (counts.Length == 2)
        {
            return CompareAnswer.Of(CountComparison.Of(Count(counts[0]), Count(counts[1])), null, null);
        }

        var home = page.Read();
        var pair = Array.ConvertAll(batches, home.RequireBatch);
        var diagnoses = home.AtNow.Diagnoses;
        var both = BatchPair.Of(diagnoses.Of(pair[0]), diagnoses.Of(pair[1]));
        return CompareAnswer.Of(BatchComparison.Counts(diagnoses, pair[0], pair[1]), both, BatchComparison.Speed(pair[0], pair[1]));
    }

    private static decimal? Price(string field, decimal? price) =>
        price is { } told ? BadInputException.In(field, () => Core.Bounds.Price.Require(told)) : null;

    private static SeedCount Count(string text) => BadInputException.In("counts", () => SeedCount.Parse(text));
}

/// <summary>The plan for the season.</summary>
/// <param name="Sheet">As somebody wrote it.</param>
/// <param name="Result">What it comes to; null while the last frost or the crops are missing.</param>
internal sealed record SeasonPlanAnswer(PlanSheet Sheet, PlanResult? Result);

/// <summary>When to sow what.</summary>
/// <param name="Crops">Each crop with its dates.</param>
/// <param name="LightWeeks">Pots in the light, week by week.</param>
internal sealed record DatesAnswer(IReadOnlyList<CropDatesAnswer> Crops, IReadOnlyList<LightWeek> LightWeeks);

/// <summary>The query of <c>/api/plan</c>: <see cref="PlanQuestion"/>, in a form that the server can bind.</summary>
internal sealed class PlanQuery
{
    public int? Plants { get; set; }

    public double? Harvest { get; set; }

    public double? Yield { get; set; }

    public double? Germination { get; set; }

    public string? Lot { get; set; }

    public double? Survival { get; set; }

    public double? Assurance { get; set; }

    public int? PerCell { get; set; }

    public decimal? SeedPrice { get; set; }

    public double? MixLitres { get; set; }

    public decimal? MixPrice { get; set; }

    public double? Watts { get; set; }

    public double? HeatHours { get; set; }

    public decimal? KwhPrice { get; set; }

    public decimal? PotsPrice { get; set; }

    public decimal? BoughtPrice { get; set; }

    public PlanQuestion ToQuestion() => new()
    {
        Plants = Plants,
        Harvest = Harvest,
        Yield = Yield,
        Germination = Germination,
        Lot = Lot,
        Survival = Survival,
        Assurance = Assurance,
        PerCell = PerCell,
        SeedPrice = SeedPrice,
        MixLitres = MixLitres,
        MixPrice = MixPrice,
        Watts = Watts,
        HeatHours = HeatHours,
        KwhPrice = KwhPrice,
        PotsPrice = PotsPrice,
        BoughtPrice = BoughtPrice,
    };
}

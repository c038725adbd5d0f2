using System.Text.Json;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>One crop of the plan, as somebody typed it.</summary>
public sealed class PlanRow
{
    public string Crop { get; set; } = string.Empty;

    public int Plants { get; set; } = 6;

    /// <summary>A lot to take the seed from; empty when none is chosen.</summary>
    public string Lot { get; set; } = string.Empty;

    /// <summary>How much is to be harvested, in any unit; with <see cref="Yield"/> it tells how many plants.</summary>
    public double? Harvest { get; set; }

    /// <summary>What one plant gives, in the same unit.</summary>
    public double? Yield { get; set; }
}

/// <summary>The plan for a season, as somebody typed it; kept in the ledger so that it is there again. Money is in the home's
/// own.</summary>
public sealed class PlanSheet
{
    private const string Key = "season-plan";

    public DateOnly? LastFrost { get; set; }

    /// <summary>Where it is to come up; empty for the crop's best temperature.</summary>
    public string Spot { get; set; } = string.Empty;

    /// <summary>Pots that fit in the light.</summary>
    public int LightRoom { get; set; } = 20;

    /// <summary>Of those up, how many in a hundred live to be planted out.</summary>
    public double? Survival { get; set; }

    /// <summary>Price of a bought plant, to compare with.</summary>
    public decimal? BoughtPrice { get; set; }

    /// <summary>Price of a litre of mix.</summary>
    public decimal? MixPrice { get; set; }

    /// <summary>Litres of mix for a plant.</summary>
    public double? PotLitres { get; set; }

    /// <summary>Price of pots and trays for the season.</summary>
    public decimal? PotsPrice { get; set; }

    /// <summary>What a mat or lamp on the spot draws, W.</summary>
    public double? Watts { get; set; }

    /// <summary>Price of a kWh.</summary>
    public decimal? KwhPrice { get; set; }

    public List<PlanRow> Rows { get; set; } = [];

    /// <summary>What one plant of a crop gives, as it was said once; in any unit, by the crop's id.</summary>
    public Dictionary<string, double> Yields { get; set; } = [];

    /// <summary>What one plant of a crop gives; null when nobody has said it.</summary>
    internal double? YieldOf(Core.Crops.CropId crop, Core.Crops.CropCatalog catalog) =>
        Yields.TryGetValue(crop.Text, out var said) ? said
            : Rows.Where(row => row.Yield is > 0 && catalog.Find(row.Crop)?.Id == crop).Select(row => row.Yield).FirstOrDefault();

    internal static PlanSheet Load(HomeLedger home, PriceSettings prices)
    {
        var sheet = Kept(home);
        sheet.BoughtPrice ??= prices.BoughtPlant;
        sheet.MixPrice ??= Known(prices.MixLitre);
        sheet.PotLitres ??= prices.ContainerLitres;
        sheet.KwhPrice ??= Known(prices.KilowattHour);
        sheet.Watts ??= prices.Watts.TryGetValue(sheet.Spot, out var watts) ? watts : null;
        return sheet;
    }

    /// <summary>What things cost: as somebody said at the page, otherwise as the settings say.</summary>
    internal static PriceSettings PricesOf(HomeLedger home, PriceSettings prices)
    {
        var said = Kept(home);
        return prices with
        {
            KilowattHour = said.KwhPrice ?? prices.KilowattHour,
            MixLitre = said.MixPrice ?? prices.MixLitre,
            ContainerLitres = said.PotLitres ?? prices.ContainerLitres,
            BoughtPlant = said.BoughtPrice ?? prices.BoughtPlant,
            Watts = said is { Watts: { } watts, Spot: { Length: > 0 } spot }
                ? new Dictionary<string, double>(prices.Watts) { [spot] = watts } : prices.Watts,
        };
    }

    /// <param name="choose">Writes it down under a name, for whoever says it.</param>
    internal void Save(Action<string, string?> choose) => choose(Key, JsonSerializer.Serialize(this));

    /// <summary>The last frost of the spring that comes next, from what was said once; null when nobody has said it.</summary>
    internal static LocalDate? NextLastFrost(HomeLedger home, LocalDate today)
    {
        if (Kept(home).LastFrost is not { } day)
        {
            return null;
        }

        var yearly = new AnnualDate(day.Month, day.Day);
        var next = yearly.InYear(today.Year);
        return next >= today ? next : yearly.InYear(today.Year + 1);
    }

    /// <summary>Keeps what somebody said, so that it need not be said again.</summary>
    internal static void Keep(HomeLedger home, Action<string, string?> choose, Action<PlanSheet> said)
    {
        var sheet = Kept(home);
        var before = JsonSerializer.Serialize(sheet);
        said(sheet);
        if (JsonSerializer.Serialize(sheet) != before)
        {
            sheet.Save(choose);
        }
    }

    internal static PlanSheet Kept(HomeLedger home)
    {
        try
        {
            return home.Settings.GetValueOrDefault(Key) is { } text
                ? JsonSerializer.Deserialize(text, KeptContext.Default.PlanSheet) ?? new() : new();
        }
        catch (JsonException)
        {
            // A plan that another version wrote is started again rather than in the way.
            return new();
        }
    }

    private static decimal? Known(decimal price) => price > 0 ? price : null;
}

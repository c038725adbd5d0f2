using System.Text.Json;
using Chamber.Core.Plans;
using Chamber.Service.Commands;
using Chamber.Service.Home;
using Chamber.Service.Words;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Web.Growing;

/// <summary>One crop of the plan, as somebody typed it.</summary>
public sealed class PlanRow
{
    public string Crop { get; set; } = string.Empty;

    public int Plants { get; set; } = 6;

    /// <summary>A lot to take the seed from; empty when none is chosen.</summary>
    public string Lot { get; set; } = string.Empty;
}

/// <summary>The plan for a season, as somebody typed it; kept in the ledger so that it is there again.</summary>
public sealed class PlanSheet
{
    private const string Key = "season-plan";

    public DateOnly? LastFrost { get; set; }

    /// <summary>Where it is to come up; empty for the crop's best temperature.</summary>
    public string Spot { get; set; } = string.Empty;

    /// <summary>Pots that fit in the light.</summary>
    public int LightRoom { get; set; } = 20;

    /// <summary>Price of a bought plant, to compare with.</summary>
    public decimal? BoughtPrice { get; set; }

    public List<PlanRow> Rows { get; set; } = [];

    internal static PlanSheet Load(ChamberStore store)
    {
        try
        {
            return store.Ledger.Settings.Get(Key) is { } text ? JsonSerializer.Deserialize<PlanSheet>(text) ?? new() : new();
        }
        catch (JsonException)
        {
            // A plan that another version wrote is started again rather than in the way.
            return new();
        }
    }

    internal void Save(ChamberStore store) => store.Ledger.Settings.Set(Key, JsonSerializer.Serialize(this));
}

/// <summary>What the plan comes to for one crop.</summary>
/// <param name="Crop">Its name.</param>
/// <param name="Plants">How many are wanted.</param>
/// <param name="Sow">How many seeds to sow, and how sure that is.</param>
/// <param name="SowOn">When to sow.</param>
/// <param name="UpOn">When they are up.</param>
/// <param name="OutOn">When to plant out.</param>
/// <param name="Cost">What a plant costs; empty when nothing is known of prices.</param>
/// <param name="Warnings">What is likely to go wrong.</param>
public sealed record PlanLine(string Crop, int Plants, string Sow, string SowOn, string UpOn, string OutOn, string Cost, IReadOnlyList<string> Warnings);

/// <summary>A plan worked out.</summary>
/// <param name="Lines">Crop by crop.</param>
/// <param name="Room">What there is to say of the room in the light; empty when there is enough.</param>
/// <param name="Weeks">Pots in the light, week by week.</param>
public sealed record PlanResult(IReadOnlyList<PlanLine> Lines, string Room, IReadOnlyList<LightWeek> Weeks);

/// <summary>Works out a season: how many seeds, when, what it costs, and whether there is room.</summary>
internal sealed class SeasonPlanner(HomeReader home, Instant now)
{
    // Without a lot: two in three is what a careful grower counts on of bought seed. Common practice, no source.
    private const double ShareUnknown = 0.67;
    private const double Assurance = 0.9;

    private LocalDate Today => now.InZone(home.Zone).Date;

    /// <exception cref="BadInputException">Something in it cannot be.</exception>
    public PlanResult Of(PlanSheet sheet)
    {
        var frost = new LastFrost(sheet.LastFrost is { } day ? LocalDate.FromDateOnly(day) : throw new BadInputException("Say when your last frost is: the day after which one is as likely as not."), 0.5);
        var rows = sheet.Rows.Where(row => row.Crop.Length > 0).ToList();
        if (rows.Count == 0)
        {
            throw new BadInputException("Add at least one crop.");
        }

        var place = sheet.Spot.Length > 0 ? home.RequireSpot(sheet.Spot) : null;
        var wanted = rows.ConvertAll(row => new Wanted(home.Catalog.Require(row.Crop), Math.Max(1, row.Plants)));
        var together = wanted.Select(one => one.Crop).ToArray();
        var dates = wanted.ConvertAll(one => CropDates.Of(home, now, one, frost, place, together));
        var weeks = LightRoom.Weeks([.. dates.Select(one => one.Lit).OfType<LitPots>()], Math.Max(1, sheet.LightRoom));
        return new([.. rows.Select((row, i) => Line(row, dates[i], sheet.BoughtPrice))], Room(weeks), weeks);
    }

    private PlanLine Line(PlanRow row, CropDates crop, decimal? boughtPrice)
    {
        var named = row.Lot.Length > 0;
        var plan = Plan.Of(new PlanQuestion
        {
            Plants = crop.Wanted.Plants,
            Lot = named ? row.Lot : null,
            Germination = named ? null : ShareUnknown,
            Assurance = Assurance,
            BoughtPrice = boughtPrice,
        }.ToRequest(home, now));
        List<string> warnings = [.. crop.Mistakes.Select(mistake => mistake.Words)];
        if (named && new HomeSeeds(home, now).Require(row.Lot) is { } lot && plan.Sow > lot.Left)
        {
            warnings.Add($"Only {lot.Left} seeds of {lot.Lot.Id} are left.");
        }

        return new(
            crop.Wanted.Crop.CommonName,
            crop.Wanted.Plants,
            $"{plan.Sow} seeds",
            crop.Dates is { } dates ? RangeText.Dates(dates.StartOn, dates.SowBy, Today) : "in its place",
            crop.Dates is { } up ? RangeText.Dates(up.UpFrom, up.UpTo, Today) : string.Empty,
            crop.Dates is { } outside ? RangeText.Dates(outside.PlantOutFrom, outside.PlantOutTo, Today) : string.Empty,
            plan.Cost is { Total: > 0 } cost ? ShareText.Show(cost.EachPlant) : string.Empty,
            warnings);
    }

    private string Room(IReadOnlyList<LightWeek> weeks) => weeks.Where(week => week.Over > 0).ToList() is [var first, ..] full
        ? $"From the week of {TimeText.ShowDay(first.Week, Today)} there is not room in the light for all: up to {full.Max(week => week.Over)} pots too many. Sow fewer, or some later."
        : string.Empty;
}

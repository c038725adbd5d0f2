using Chamber.Core.Crops;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Import;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>What this home's batches and trials have taught.</summary>
internal static class TrialRoutes
{
    private const string Source = "trials of our own";

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads.MapGet("/learned", (PageHome page) => LearnedAnswer.Of(page.Read().AtNow.Forecasts.Knowledge)).WithTags("Crops")
            .WithName("Learned")
            .WithSummary("What batches have taught: how much faster or slower seed comes up here than in the tables.");
        writes.MapPost("/trials", (PageHome page, TrialRequest trials) => FitAsync(page, trials)).WithTags("Crops").WithName("FitTrials")
            .WithSummary("Fits a crop's profile to counts at steady temperatures; with save it is kept as a crop of your own.");
    }

    private static async Task<FitAnswer> FitAsync(PageHome page, TrialRequest asked)
    {
        var counts = BadInputException.In("rows", () => TrialFile.Of(
            [.. asked.Rows.Select(row => new[] { row.Temperature, row.From, row.To ?? "", row.Count, row.Dish ?? "" })]));
        var fit = BadInputException.In("rows", () => OwnTrials.Fit(counts, "These trials"));
        var crop = string.IsNullOrWhiteSpace(asked.Save) ? (CropId?)null
            : BadInputException.In("save", () => new CropId(PageHome.AsName(asked.Save)));
        if (crop is { } name)
        {
            await page.WriteAsync((home, _) => OwnTrials.Save(home, name, fit, Source, asked.Event, asked.Poisonous));
        }

        return FitAnswer.Of(fit, crop);
    }
}

/// <summary>Counts of a trial.</summary>
/// <param name="Rows">Each interval between two looks.</param>
/// <param name="Save">The name of a crop of your own to keep it as; nothing is kept without.</param>
/// <param name="Event">What was counted; a shoot by default.</param>
/// <param name="Poisonous">For a crop that is kept: no, or which part is poisonous and how.</param>
internal sealed record TrialRequest(IReadOnlyList<TrialRow> Rows, string? Save = null, EmergenceEvent? Event = null,
    string? Poisonous = null);

/// <summary>Seeds that came up between two looks at one temperature.</summary>
/// <param name="Temperature">With its unit; °C without.</param>
/// <param name="From">Days since the sowing of the last look without them.</param>
/// <param name="To">Days of the first look with them; nothing for those not up at the end.</param>
/// <param name="Count">How many.</param>
/// <param name="Dish">Which dish, where a temperature had several.</param>
internal sealed record TrialRow(string Temperature, string From, string? To, string Count, string? Dish = null);

using System.CommandLine;
using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Plans;
using Chamber.Core.Reviews;
using Chamber.Service.Plots;
using Chamber.Service.Reviews;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Looks back on a season: spots, lots, methods, money, and what to do differently.</summary>
internal static class SeasonVerb
{
    public static Verb Create()
    {
        var year = new Option<int?>("--year") { HelpName = "YEAR", Description = "Batches sown in this year. This year unless told." };
        var bought = Typed.Option<decimal?>("--bought-price", "MONEY", "Price of a bought plant, to say what was saved. Otherwise \"prices.boughtPlant\" of chamber.json.", text => ShareText.Money(text));
        var other = Typed.Option<decimal?>("--other-costs", "MONEY", "Pots and whatever else. Seed is known from the lots; mix and electricity from \"prices\" of chamber.json.", text => ShareText.Money(text));
        var plot = new Option<string?>("--plot") { HelpName = "FILE", Description = "Writes forecast against seen as a picture (.png or .svg)." };
        return new Verb("season", "Looks back on a season: spots, lots, methods, money, and what to do differently.", "chamber season --bought-price 2.50", "chamber season --year 2026 --plot season.png --json") { year, bought, other, plot }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var asked = parse.GetValue(year) ?? invocation.Now.InZone(invocation.Zone).Year;
                var reviews = new HomeReviews(invocation.Home, invocation.Now, invocation.Scale);
                var batches = reviews.All(SeasonOf(asked, invocation.Zone));
                var prices = invocation.Settings.Prices;
                var review = reviews.Season(batches, prices, parse.GetValue(other) ?? 0, parse.GetValue(bought) ?? prices.BoughtPlant);
                var hits = batches.Select(one => one.Hit).OfType<Hit>().ToList();
                if (parse.GetValue(plot) is { } file)
                {
                    PictureFile.Write(file, HomePlots.PredictedAgainstActual(hits));
                }

                invocation.Answer(SeasonAnswer.Of(asked, batches.Count, review, hits), screen => Show(screen, asked, batches.Count, review, hits));
            });
    }

    public static Interval SeasonOf(int year, DateTimeZone zone) => year is >= 1970 and <= 2200
        ? new(new LocalDate(year, 1, 1).AtStartOfDayInZone(zone).ToInstant(), new LocalDate(year + 1, 1, 1).AtStartOfDayInZone(zone).ToInstant())
        : throw BadInputException.In("year", $"year {year}: write it with four digits.");

    /// <summary>What came of it and for how much.</summary>
    public static string Headline(SeasonReview review) => review.PlantedOut == 0
        ? $"Nothing is planted out yet; {ShareText.Show(review.Cost.Total)} spent."
        : $"{review.PlantedOut} plants out for {ShareText.Show(review.Cost.Total)}{Saved(review.Saved)}.";

    /// <summary>What was spent on what; empty when nothing was.</summary>
    public static string MoneyWords(PlantCost cost)
    {
        var parts = new[] { ("seed", cost.Seed), ("mix", cost.Mix), ("electricity", cost.Heat), ("pots and other", cost.Containers) }
            .Where(part => part.Item2 > 0).Select(part => $"{part.Item1} {ShareText.Show(part.Item2)}").ToList();
        return parts.Count == 0 ? string.Empty : $"Spent on {string.Join(", ", parts)}{(cost.EachPlant is { } each ? $"; {ShareText.Show(each)} a plant" : string.Empty)}.";
    }

    /// <summary>How the forecasts did; empty without any.</summary>
    public static string ForecastWords(IReadOnlyCollection<Hit> hits) => hits.Count == 0
        ? string.Empty
        : string.Create(CultureInfo.InvariantCulture, $"Forecasts: {hits.Count(hit => hit.Held)} of {hits.Count} held; off by {hits.Average(hit => hit.Error):0.#} days on average.");

    /// <summary>One row of a table: name, batches, share up, days to the first, planted out.</summary>
    public static string[] Row(SeasonLine line) =>
    [
        line.Name,
        line.Batches.ToString(CultureInfo.InvariantCulture),
        RangeText.Percent(line.Share.Low, line.Share.Mid, line.Share.High),
        line.Days is { } days ? PlainText.Number(days) : "-",
        line.PlantedOut.ToString(CultureInfo.InvariantCulture),
    ];

    private static void Show(Screen screen, int year, int batches, SeasonReview review, List<Hit> hits)
    {
        if (batches == 0)
        {
            screen.Headline($"Nothing was sown in {year}.");
            return;
        }

        screen.Headline(Headline(review));
        Money(screen, review.Cost);
        Lines(screen, "Spot", review.Spots);
        Lines(screen, "Lot", review.Lots);
        Lines(screen, "Method", review.Methods);
        if (review.StillComing is { Count: > 0 } waiting)
        {
            screen.Say($"Still coming up, and not counted above: {string.Join(", ", waiting)}.");
        }

        if (ForecastWords(hits) is { Length: > 0 } forecasts)
        {
            screen.Say(forecasts);
        }

        foreach (var line in review.NextYear)
        {
            screen.Say($"Next year: {line}");
        }

        screen.Aside("Shares with 95 % intervals take the seeds of several batches as alike, so the truth is wider.");
    }

    private static string Saved(decimal? saved) => saved switch
    {
        null => string.Empty,
        >= 0 => $", {ShareText.Show(saved.Value)} less than bought ones",
        _ => $", {ShareText.Show(-saved.Value)} more than bought ones",
    };

    private static void Money(Screen screen, PlantCost cost)
    {
        if (MoneyWords(cost) is { Length: > 0 } words)
        {
            screen.Say(words);
        }

        if (cost.Heat > 0)
        {
            screen.Aside("Electricity as if mats and lamps never switched off while a batch stood there; a thermostat makes it less.");
        }
    }

    private static void Lines(Screen screen, string what, IReadOnlyList<SeasonLine> lines)
    {
        if (lines.Count == 0)
        {
            return;
        }

        screen.Table([what, ">Batches", ">Up", ">Days to first", ">Planted out"], lines.Select(Row));
        screen.Say();
    }
}

/// <summary>A season for programs.</summary>
internal sealed record SeasonAnswer(
    int Year,
    int Batches,
    IReadOnlyList<BatchId> StillComing,
    IReadOnlyList<SeasonLine> Spots,
    IReadOnlyList<SeasonLine> Lots,
    IReadOnlyList<SeasonLine> Methods,
    int PlantedOut,
    decimal Cost,
    CostParts CostParts,
    decimal? CostEach,
    decimal? Saved,
    IReadOnlyList<string> NextYear,
    IReadOnlyList<HitAnswer> Forecasts)
{
    public static SeasonAnswer Of(int year, int batches, SeasonReview review, IEnumerable<Hit> hits) => new(
        year,
        batches,
        review.StillComing,
        review.Spots,
        review.Lots,
        review.Methods,
        review.PlantedOut,
        review.Cost.Total,
        new(review.Cost.Seed, review.Cost.Mix, review.Cost.Heat, review.Cost.Containers),
        review.Cost.EachPlant,
        review.Saved,
        review.NextYear,
        [.. hits.Select(hit => new HitAnswer(hit.Batch, hit.Predicted, hit.Low, hit.High, hit.After, hit.By, hit.Error, hit.Held))]);
}

/// <summary>What a season's money went on.</summary>
internal sealed record CostParts(decimal Seed, decimal Mix, decimal Heat, decimal Other);

/// <summary>A forecast against what was seen, days since the sowing.</summary>
internal sealed record HitAnswer(BatchId Batch, double Predicted, double Low, double High, double SeenAfter, double SeenBy, double Error, bool Held);

using System.CommandLine;
using Chamber.Core.Plans;
using Chamber.Core.Reviews;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Plots;
using Chamber.Service.Reviews;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Looks back on a season: spots, lots, methods, money, and what to do differently.</summary>
internal static class SeasonVerb
{
    public static Verb Create()
    {
        var year = new Option<int?>("--year") { HelpName = "YEAR", Description = "Batches sown in this year. Default: the current year." };
        var bought = Typed.Option<decimal?>("--bought-price", "MONEY",
            "Price of a bought plant, to say what you saved. Default: prices.boughtPlant in chamber.json.", text =>
            ShareText.Money(text));
        var other = Typed.Option<decimal?>("--other-costs", "MONEY",
            "Cost of pots and so on. Seed is known from the lots, mix and electricity from the prices in the plan or in chamber.json.",
            text => ShareText.Money(text));
        var plot = new Option<string?>("--plot") { HelpName = "FILE",
            Description = "Draw forecast against seen into this file (.png or .svg)." };
        return new Verb("season", "Looks back on a season: spots, lots, methods, money, and what to do differently.",
            "chamber season --bought-price 2.50", "chamber season --year 2026 --plot season.png --json") { year, bought, other, plot }
            .LooksBack()
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var asked = parse.GetValue(year) ?? invocation.Now.InZone(invocation.Zone).Year;
                var reviews = new HomeReviews(invocation.Home, invocation.Now, invocation.Scale);
                var batches = reviews.All(SeasonWords.SeasonOf(asked, invocation.Zone));
                var prices = PlanSheet.PricesOf(invocation.Home.Ledger, invocation.Settings.Prices);
                var review = reviews.Season(batches, prices, parse.GetValue(other) ?? 0, parse.GetValue(bought) ?? prices.BoughtPlant);
                var hits = batches.Select(one => one.Hit).OfType<Hit>().ToList();
                if (parse.GetValue(plot) is { } file)
                {
                    PictureFile.Write(file, HomePlots.PredictedAgainstActual(hits));
                }

                invocation.Answer(SeasonAnswer.Of(asked, batches.Count, review, hits),
                    screen =>
                    {
                        Show(screen, asked, batches.Count, review, hits);
                        foreach (var line in HomeWarnings.OfPrices(invocation.Home.Spots(), prices))
                        {
                            screen.Warn(line);
                        }
                    });
            });
    }

    private static void Show(Screen screen, int year, int batches, SeasonReview review, List<Hit> hits)
    {
        if (batches == 0)
        {
            screen.Headline($"Nothing was sown in {year}.");
            return;
        }

        screen.Headline(SeasonWords.Headline(review));
        Money(screen, review.Cost);
        Lines(screen, "Spot", review.Spots);
        Lines(screen, "Lot", review.Lots);
        Lines(screen, "Method", review.Methods);
        if (review.StillComing is { Count: > 0 } waiting)
        {
            screen.Say($"Still coming up, and not counted above: {string.Join(", ", waiting)}.");
        }

        if (SeasonWords.ForecastWords(hits) is { Length: > 0 } forecasts)
        {
            screen.Say(forecasts);
        }

        foreach (var line in review.NextYear)
        {
            screen.Say($"Next year: {line}");
        }

        screen.Aside("The 95 % intervals treat the seeds of several batches as alike, so the true range is wider.");
    }

    private static void Money(Screen screen, PlantCost cost)
    {
        if (SeasonWords.MoneyWords(cost) is { Length: > 0 } words)
        {
            screen.Say(words);
        }

        if (cost.Heat > 0)
        {
            screen.Aside("Electricity is counted as if mats and lamps were never off while a batch was there; a thermostat uses less.");
        }
    }

    private static void Lines(Screen screen, string what, IReadOnlyList<SeasonLine> lines)
    {
        if (lines.Count == 0)
        {
            return;
        }

        screen.Table([what, ">Batches", ">Up", ">Days to first", ">Planted out"], lines.Select(SeasonWords.Row));
        screen.Say();
    }
}

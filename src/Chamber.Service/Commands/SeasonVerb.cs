using System.CommandLine;
using System.Globalization;
using Chamber.Core.Reviews;
using Chamber.Service.Output;
using Chamber.Service.Plots;
using Chamber.Service.Reviews;
using Chamber.Service.Words;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Looks back on a season: spots, lots, methods, money, and what to do differently.</summary>
internal static class SeasonVerb
{
    public static Verb Create()
    {
        var year = new Option<int?>("--year") { HelpName = "YEAR", Description = "Batches sown in this year. This year unless told." };
        var bought = Typed.Option<decimal?>("--bought-price", "MONEY", "Price of a bought plant, to say what was saved.", text => ShareText.Money(text));
        var other = Typed.Option<decimal?>("--other-costs", "MONEY", "Mix, pots and electricity of the season; seed is known from the lots.", text => ShareText.Money(text));
        var plot = new Option<string?>("--plot") { HelpName = "FILE", Description = "Writes forecast against seen as a picture (.png or .svg)." };
        return new Verb("season", "Looks back on a season: spots, lots, methods, money, and what to do differently.", "chamber season --bought-price 2.50", "chamber season --year 2026 --plot season.png --json") { year, bought, other, plot }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var asked = parse.GetValue(year) ?? invocation.Now.InZone(invocation.Zone).Year;
                var season = SeasonOf(asked, invocation.Zone);
                var reviews = new HomeReviews(invocation.Home, invocation.Now, invocation.Scale).All(season);
                var review = SeasonReview.Of([.. reviews.Select(HomeReviews.Outcome)], parse.GetValue(bought));
                var costs = parse.GetValue(other) ?? 0;
                review = review with { Cost = review.Cost + costs, Saved = review.Saved - costs };
                var hits = reviews.Select(one => one.Hit).OfType<Hit>().ToList();
                if (parse.GetValue(plot) is { } file)
                {
                    PictureFile.Write(file, HomePlots.PredictedAgainstActual(hits));
                }

                invocation.Answer(new { Year = asked, Batches = reviews.Count, review.Spots, review.Lots, review.Methods, review.PlantedOut, review.Cost, review.Saved, review.NextYear, Forecasts = hits.Select(hit => new { hit.Batch, hit.Predicted, hit.Low, hit.High, SeenAfter = hit.After, SeenBy = hit.By, hit.Error, hit.Held }) }, screen => Show(screen, asked, review, hits));
            });
    }

    private static Interval SeasonOf(int year, DateTimeZone zone) => year is >= 1970 and <= 2200
        ? new(new LocalDate(year, 1, 1).AtStartOfDayInZone(zone).ToInstant(), new LocalDate(year + 1, 1, 1).AtStartOfDayInZone(zone).ToInstant())
        : throw new BadInputException($"--year {year}: write the year with four digits.");

    private static void Show(Screen screen, int year, SeasonReview review, List<Hit> hits)
    {
        if (review.Methods.Count == 0)
        {
            screen.Headline($"Nothing was sown in {year}.");
            return;
        }

        screen.Headline(review.Saved is { } saved
            ? $"{review.PlantedOut} plants out for {ShareText.Show(review.Cost)}, {(saved >= 0 ? $"{ShareText.Show(saved)} less" : $"{ShareText.Show(-saved)} more")} than bought ones."
            : $"{review.PlantedOut} plants out for {ShareText.Show(review.Cost)}.");
        Lines(screen, "Spot", review.Spots);
        Lines(screen, "Lot", review.Lots);
        Lines(screen, "Method", review.Methods);
        if (hits.Count > 0)
        {
            screen.Say(string.Create(CultureInfo.InvariantCulture, $"Forecasts: {hits.Count(hit => hit.Held)} of {hits.Count} held; off by {hits.Average(hit => hit.Error):0.#} days on average."));
        }

        foreach (var line in review.NextYear)
        {
            screen.Say($"Next year: {line}");
        }

        screen.Aside("Shares with 95 % intervals take the seeds of several batches as alike, so the truth is wider.");
    }

    private static void Lines(Screen screen, string what, IReadOnlyList<SeasonLine> lines)
    {
        screen.Table([what, ">Batches", ">Up", ">Days to first", ">Planted out"], lines.Select(line => new[]
        {
            line.Name,
            line.Batches.ToString(CultureInfo.InvariantCulture),
            RangeText.Percent(line.Share.Low, line.Share.Mid, line.Share.High),
            line.Days is { } days ? Screen.Number(days) : "-",
            line.PlantedOut.ToString(CultureInfo.InvariantCulture),
        }));
        screen.Say();
    }
}

using System.Globalization;
using System.Net;
using System.Text;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Service.Plots;
using NodaTime;

namespace Chamber.Service.Reviews;

/// <summary>A batch looked back on, as one HTML file that needs nothing else: to keep, to print, to send.</summary>
internal static class ReviewPage
{
    private const string Style = """
        :root { color-scheme: light; }
        body { margin: 0 auto; max-width: 56rem; padding: 1rem; font: 1rem/1.5 system-ui, sans-serif; color: #222; background: #fff; }
        h1 { font-size: 1.3rem; margin: 0 0 .3rem; }
        h2 { font-size: 1.05rem; margin: 2rem 0 .4rem; }
        .verdict { font-size: 1.25rem; margin: 0; padding: .8rem 1rem; border-left: .4rem solid #0072b2; background: #f3f6f8; }
        .next { margin: .6rem 0 0; }
        table { border-collapse: collapse; width: 100%; }
        th, td { text-align: left; vertical-align: top; padding: .25rem .8rem .25rem 0; border-bottom: 1px solid #ddd; font-weight: normal; }
        th { color: #555; width: 11rem; }
        figure { margin: 0; }
        img { display: block; width: 100%; height: auto; }
        footer { margin: 2rem 0 1rem; color: #555; font-size: .85rem; }
        @media (max-width: 30rem) { body { padding: .7rem; } th { width: 7.5rem; } }
        @media print { body { max-width: none; } h2, figure { break-inside: avoid; } }
        """;

    public static string Of(BatchReview review, Instant now)
    {
        var page = new StringBuilder();
        var picture = review.Picture;
        page.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.Append(CultureInfo.InvariantCulture, $"<title>{Text(picture.Title)}: looking back</title>\n<style>\n{Style}\n</style>\n</head>\n<body>\n");
        page.Append(CultureInfo.InvariantCulture, $"<h1>Batch {Text(review.Batch.Id.Text)}: {review.Batch.Seeds} {Text(review.Crop.CommonName)}</h1>\n");
        page.Append(CultureInfo.InvariantCulture, $"<p class=\"verdict\">{Text(review.Diagnosis.Sentence)}</p>\n");
        if (review.Diagnosis.NextTime.Length > 0)
        {
            page.Append(CultureInfo.InvariantCulture, $"<p class=\"next\">Next time: {Text(review.Diagnosis.NextTime)}</p>\n");
        }

        Table(page, "In short", ReviewWords.Facts(review));
        foreach (var (name, words, plot) in Pictures(review))
        {
            Figure(page, name, words, plot);
        }

        Table(page, "What was seen and done", ReviewWords.Story(review));
        page.Append(CultureInfo.InvariantCulture, $"<footer>Written {Text(TimeText.ShowDay(now.InZone(picture.Zone).Date, default))}. Numbers of the crop: {Text(string.Join("; ", review.Crop.Sources))}</footer>\n</body>\n</html>\n");
        return page.ToString();
    }

    /// <summary>The pictures by name, with the words that stand for each.</summary>
    public static IEnumerable<(string Name, string Words, Func<ScottPlot.Plot> Plot)> Pictures(BatchReview review)
    {
        yield return ("Temperature", ReviewWords.OfTemperature(review), () => BatchPlots.Temperature(review.Picture));
        yield return ("Warm-hours", ReviewWords.OfWarmHours(review), () => BatchPlots.WarmHours(review.Picture));
        yield return ("Counts", ReviewWords.OfCounts(review), () => BatchPlots.Counts(review.Picture));
    }

    private static void Table(StringBuilder page, string heading, IEnumerable<(string Name, string Value)> rows)
    {
        page.Append(CultureInfo.InvariantCulture, $"<h2>{Text(heading)}</h2>\n<table>\n");
        foreach (var (name, value) in rows)
        {
            page.Append(CultureInfo.InvariantCulture, $"<tr><th scope=\"row\">{Text(name)}</th><td>{Text(value)}</td></tr>\n");
        }

        page.Append("</table>\n");
    }

    private static void Figure(StringBuilder page, string name, string words, Func<ScottPlot.Plot> plot)
    {
        var phone = Convert.ToBase64String(PlotStyle.Png(plot(), PlotSize.Phone));
        var wide = Convert.ToBase64String(PlotStyle.Png(plot(), PlotSize.Page));
        page.Append(CultureInfo.InvariantCulture, $"<h2>{Text(name)}</h2>\n<figure>\n<picture>\n<source media=\"(max-width: 30rem)\" srcset=\"data:image/png;base64,{phone}\">\n<img src=\"data:image/png;base64,{wide}\" alt=\"{Text(words)}\">\n</picture>\n<figcaption>{Text(words)}</figcaption>\n</figure>\n");
    }

    private static string Text(string text) => WebUtility.HtmlEncode(text);
}

/// <summary>A review in words.</summary>
internal static class ReviewWords
{
    public static IEnumerable<(string Name, string Value)> Facts(BatchReview review)
    {
        var (batch, known, picture) = (review.Batch, review.Case, review.Picture);
        yield return ("Sown", $"{Day(batch.SownAt, picture.Zone)}, {Choice.Words(batch.Method)}{(batch.Treatment is { } treatment ? $", {treatment}" : string.Empty)}");
        if (batch.Lot is { } lot)
        {
            yield return ("Lot", lot.Text);
        }

        yield return ("Up", string.Create(CultureInfo.InvariantCulture, $"{known.Count.Up} of {known.Count.Seeds}; {known.Expected * 100:0} % were expected"));
        yield return ("First up", known.SeenDays.By is { } by
            ? string.Create(CultureInfo.InvariantCulture, $"between day {known.SeenDays.After:0.#} and {by:0.#}")
            : known.WasSeen ? string.Create(CultureInfo.InvariantCulture, $"nothing by day {known.SeenDays.After:0.#}") : "nobody has looked yet");
        if (DiagnosisWords.Of(review.Diagnosis.Loss) is { } loss)
        {
            yield return (known.IsOver ? "Lost" : "Likely lost", loss);
        }

        if (known.ForecastDays is { } days)
        {
            yield return ("Forecast", string.Create(CultureInfo.InvariantCulture, $"day {days.Low:0.#} to {days.High:0.#} (80 %)"));
        }

        yield return ("Temperature", string.Create(CultureInfo.InvariantCulture, $"{known.Hours.HoursBelow:0} h below {picture.Scale.Show(review.Crop.CoolLimit)}, {known.Hours.HoursAbove:0} h above {picture.Scale.Show(review.Crop.HotLimit)}, {(known.SeenDays.By is null ? "so far" : "until they were up")}; {known.Hours.UnknownHours:0} h not measured"));
        yield return ("Warm and dark after", string.Create(CultureInfo.InvariantCulture, $"{known.WarmDarkHours:0} h"));
        if (batch.Losses.Count > 0)
        {
            yield return ("Lost after coming up", string.Join(", ", batch.Losses.GroupBy(loss => loss.Cause).Select(group => $"{group.Sum(loss => loss.Plants)} to {Choice.Words(group.Key)}")));
        }

        if (review.SeedCost is { } cost)
        {
            yield return ("Seed cost", ShareText.Show(cost));
        }
    }

    /// <summary>Stays, looks, stages and losses in order of time.</summary>
    public static IEnumerable<(string Name, string Value)> Story(BatchReview review)
    {
        var (batch, zone) = (review.Batch, review.Picture.Zone);
        var events = batch.Stays.Select((stay, i) => (stay.When.Start, $"{(i == 0 ? "sown, placed on" : "moved to")} {stay.Spot}"))
            .Concat(batch.Looks.Select(look => (look.At, $"{look.Up} up{(look.Note is { } note ? $": {note}" : string.Empty)}")))
            .Concat(batch.Stages.Select(stage => (stage.At, $"{Choice.Words(stage.Kind)}{(stage.Plants is { } plants ? $", {plants} plants" : string.Empty)}{(stage.Note is { } note ? $": {note}" : string.Empty)}")))
            .Concat(batch.Losses.Select(loss => (loss.At, $"{loss.Plants} lost to {Choice.Words(loss.Cause)}{(loss.Note is { } note ? $": {note}" : string.Empty)}")));
        if (batch.EndedAt is { } ended)
        {
            events = events.Append((ended, "ended"));
        }

        return events.OrderBy(one => one.Item1).Select(one => (Moment(one.Item1, zone), one.Item2));
    }

    public static string OfTemperature(BatchReview review)
    {
        var scale = review.Picture.Scale;
        var all = review.Picture.Stretches.SelectMany(stretch => stretch).Select(sample => sample.Temperature).ToList();
        return all.Count == 0
            ? "Nothing was measured."
            : $"From {scale.Show(all.Min())} to {scale.Show(all.Max())}. Green: the ideal band, {scale.Show(review.Crop.IdealBand)}. Grey: no readings.";
    }

    public static string OfWarmHours(BatchReview review) => review.Picture.Warmth.Count == 0
        ? "Nothing was measured."
        : string.Create(CultureInfo.InvariantCulture, $"{review.Picture.Warmth[^1].CelsiusHours:0} °C·h in all. Blue: when the first was forecast to be up, knowing these temperatures. Orange: between which looks it came.");

    public static string OfCounts(BatchReview review) =>
        string.Create(CultureInfo.InvariantCulture, $"{review.Case.Count.Up} of {review.Case.Count.Seeds} up after {review.Batch.Looks.Count} looks. Steps: what was known. Dashed: the curve fitted to it.");

    private static string Day(Instant at, DateTimeZone zone) => at.InZone(zone).Date.ToString("ddd d MMM uuuu", CultureInfo.InvariantCulture);

    private static string Moment(Instant at, DateTimeZone zone) => at.InZone(zone).LocalDateTime.ToString("d MMM HH:mm", CultureInfo.InvariantCulture);
}

using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Service.Photos;
using Chamber.Service.Plots;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace Chamber.Service.Reviews;

/// <summary>A batch looked back on, as one HTML file that needs nothing else: to keep, to print, to send.</summary>
internal static class ReviewPage
{
    private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    /// <summary>How many photos it holds at most, spread over the batch's life.</summary>
    private const int PhotosMax = 24;

    /// <summary>The file as text. What is shown, the time and the photos go in as services, since a component's parameters would have to be
    /// public.</summary>
    public static async Task<string> OfAsync(BatchReview review, Instant now, PhotoShelf files)
    {
        await using var services = new ServiceCollection().AddSingleton(Encoder).AddSingleton(review).AddSingleton(new WrittenAt(now))
            .AddSingleton(await PhotosAsync(review, files)).BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, NullLoggerFactory.Instance);
        return await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<ReviewDocument>()).ToHtmlString());
    }

    private static async Task<ReviewPhotos> PhotosAsync(BatchReview review, PhotoShelf files)
    {
        var (all, zone) = (review.Batch.Photos, review.Picture.Zone);
        var shown = all.Count <= PhotosMax ? all
            : [.. Enumerable.Range(0, PhotosMax).Select(i => all[i * (all.Count - 1) / (PhotosMax - 1)])];
        var each = new List<(string Day, string Source)>();
        foreach (var photo in shown)
        {
            if (await files.ReadAsync(photo.Name, small: true) is { } small)
            {
                each.Add((TimeText.ShowDay(photo.At.InZone(zone).Date, default),
                    $"data:image/jpeg;base64,{Convert.ToBase64String(small)}"));
            }
        }

        return new(each);
    }

    /// <summary>The pictures by name, with the words that stand for each.</summary>
    public static IEnumerable<(string Name, string Words, Func<ScottPlot.Plot> Plot)> Pictures(BatchReview review)
    {
        yield return ("Temperature", ReviewWords.OfTemperature(review), () => BatchPlots.Temperature(review.Picture));
        yield return ("Warm-hours", ReviewWords.OfWarmHours(review), () => BatchPlots.WarmHours(review.Picture));
        yield return ("Counts", ReviewWords.OfCounts(review), () => BatchPlots.Counts(review.Picture));
    }
}

/// <summary>Photos of a batch in its review, each with its day.</summary>
internal sealed record ReviewPhotos(IReadOnlyList<(string Day, string Source)> Each);

/// <summary>When a review is written.</summary>
internal sealed record WrittenAt(Instant At);

/// <summary>A review in words.</summary>
internal static class ReviewWords
{
    public static IEnumerable<(string Name, string Value)> Facts(BatchReview review)
    {
        var (batch, known, picture) = (review.Batch, review.Case, review.Picture);
        yield return ("Sown", $"{Day(batch.SownAt, picture.Zone)}, "
            + $"{Choice.Words(batch.Method)}{(batch.Treatment is { } treatment ? $", {treatment}" : string.Empty)}");
        if (batch.Lot is { } lot)
        {
            yield return ("Lot", lot.Text);
        }

        yield return ("Up", string.Create(CultureInfo.InvariantCulture,
            $"{known.Count.Up} of {known.Count.Seeds}; {known.Expected * 100:0} % were expected"));
        yield return ("First up", known.SeenDays.By is { } by
            ? string.Create(CultureInfo.InvariantCulture, $"between day {known.SeenDays.After:0.#} and {by:0.#}")
            : known.WasSeen ? string.Create(CultureInfo.InvariantCulture, $"nothing by day {known.SeenDays.After:0.#}")
                : "nobody has looked yet");
        if (DiagnosisWords.Of(review.Diagnosis.Loss) is { } loss)
        {
            yield return (known.IsOver ? "Lost" : "Likely lost", loss);
        }

        if (known.ForecastDays is { } days)
        {
            yield return ("Forecast", string.Create(CultureInfo.InvariantCulture,
                $"day {days.Low:0.#} to {days.High:0.#}, right about 4 times in 5"));
        }

        yield return ("Temperature",
            string.Create(CultureInfo.InvariantCulture,
            $"{known.Hours.HoursBelow:0} h below {picture.Scale.Show(review.Crop.CoolLimit)}, {known.Hours.HoursAbove:0} h above "
            + $"{picture.Scale.Show(review.Crop.HotLimit)}, {(known.SeenDays.By is null ? "so far" : "until they were up")}; "
            + $"{known.Hours.UnknownHours:0} h not measured"));
        yield return ("Warm and dark after", string.Create(CultureInfo.InvariantCulture, $"{known.WarmDarkHours:0} h"));
        if (batch.Losses.Count > 0)
        {
            yield return ("Lost after coming up",
                string.Join(", ", batch.Losses.GroupBy(loss => loss.Cause)
                .Select(group => $"{group.Sum(loss => loss.Plants)} to {Choice.Words(group.Key)}")));
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
            .Concat(batch.Stages.Select(
                stage => (stage.At,
                $"{Choice.Words(stage.Kind)}{(stage.Plants is { } plants ? $", {CountText.Of(plants, "plant")}" : string.Empty)}{(stage.Note is { } note ? $": {note}" : string.Empty)}")))
            .Concat(batch.Losses.Select(loss =>
                (loss.At, $"{loss.Plants} lost ({Choice.Words(loss.Cause)}){(loss.Note is { } note ? $": {note}" : string.Empty)}")));
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
            : $"From {scale.Show(all.Min())} to {scale.Show(all.Max())}. Green: the ideal band, {scale.Show(review.Crop.IdealBand)}. "
                + $"Grey: no readings.";
    }

    public static string OfWarmHours(BatchReview review) => review.Picture.Warmth.Count == 0
        ? "Nothing was measured."
        : string.Create(CultureInfo.InvariantCulture, $"{review.Picture.Warmth[^1].CelsiusHours:0} °C·h in all. Blue: when the first was "
            + $"forecast to be up, knowing these temperatures. Orange: between which looks it came.");

    public static string OfCounts(BatchReview review) =>
        string.Create(CultureInfo.InvariantCulture, $"{review.Case.Count.Up} of {review.Case.Count.Seeds} up after "
            + $"{review.Batch.Looks.Count} looks. Steps: what was known. Dashed: the curve fitted to it.");

    private static string Day(Instant at, DateTimeZone zone) =>
        at.InZone(zone).Date.ToString("ddd d MMM uuuu", CultureInfo.InvariantCulture);

    private static string Moment(Instant at, DateTimeZone zone) =>
        at.InZone(zone).LocalDateTime.ToString("d MMM HH:mm", CultureInfo.InvariantCulture);
}

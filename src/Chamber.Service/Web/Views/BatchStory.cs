using Chamber.Core.Batches;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>Something that was seen or done, in words.</summary>
public readonly record struct StoryLine(Instant At, string Words);

/// <summary>A day of a batch with what was seen and done, the last first.</summary>
/// <param name="Day">Which day.</param>
/// <param name="Lines">What, the last first; never empty.</param>
public sealed record StoryDay(LocalDate Day, IReadOnlyList<StoryLine> Lines)
{
    /// <summary>The day in a few words.</summary>
    public string Summary => string.Join("; ", Lines.Select(line => line.Words).Distinct().Reverse());
}

/// <summary>What was seen and done of a batch, folded to days.</summary>
internal static class BatchStory
{
    /// <summary>The last day first.</summary>
    public static IReadOnlyList<StoryDay> Days(Batch batch, IEnumerable<Instant> wettings, DateTimeZone zone, ShownNames names) =>
        [.. Lines(batch, wettings, names).OrderByDescending(line => line.At).GroupBy(line => line.At.InZone(zone).Date)
            .Select(day => new StoryDay(day.Key, [.. day]))];

    private static IEnumerable<StoryLine> Lines(Batch batch, IEnumerable<Instant> wettings, ShownNames names) =>
        batch.Stays.Select((stay, i) => new StoryLine(stay.When.Start, $"{(i == 0 ? "sown, on" : "moved to")} {names.Of(stay.Spot)}"))
            .Concat(batch.Looks.Select(look => new StoryLine(look.At,
                (look.Up == 0 ? "nothing up" : $"{look.Up} up") + Felt(look.Moisture) + Noted(look.Note))))
            .Concat(batch.Stages.Select(stage => new StoryLine(stage.At,
                $"{TodayWords.Done(stage.Kind)}{(stage.Plants is { } plants ? $", {CountText.Of(plants, "plant")}" : "")}{Noted(stage.Note)}")))
            .Concat(batch.Losses.Select(loss =>
                new StoryLine(loss.At, $"{loss.Plants} lost ({Choice.Words(loss.Cause)}){Noted(loss.Note)}")))
            .Concat(batch.Photos.Select(photo => new StoryLine(photo.At, $"photo{Noted(photo.Note)}")))
            .Concat(wettings.Select(at => new StoryLine(at, "watered")))
            .Concat(batch.EndedAt is { } ended ? [new StoryLine(ended, "ended")] : []);

    private static string Felt(LookMoisture? moisture) => moisture is { } felt ? $", {Choice.Words(felt)}" : "";

    private static string Noted(string? note) => note is null ? "" : $": {note}";
}

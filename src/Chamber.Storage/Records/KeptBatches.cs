using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Storage.Files;
using NodaTime;

namespace Chamber.Storage.Records;

/// <summary>Takes from batches as they lie in the file what is beyond bounds, or cannot be true: a batch whole when its own numbers are,
/// otherwise just that look, stage or loss.</summary>
internal static class KeptBatches
{
    public static List<Batch> Of(LeftOut leftOut, List<Batch> batches) =>
        leftOut.Keep(batches, batch => WhyNot(batch), batch => Named(batch.Id)).ConvertAll(batch => Parts(leftOut, batch));

    /// <summary>Why a batch is left out, with the fix; null when it isn't.</summary>
    public static string? WhyNot(Batch batch) =>
        WithinBounds.WhyNot(batch) is { } why ? $"{why} To put it right, sow it again under its name." : null;

    public static string Named(BatchId id) => $"Batch {id}";

    private static Batch Parts(LeftOut leftOut, Batch batch) => batch with
    {
        Stays = [.. batch.Stays.Where(stay => Keeps(leftOut, batch, "stay", stay.When.Start, WithinBounds.WhyNot(stay.When)))],
        Looks = Looks(leftOut, batch),
        Stages = [.. batch.Stages.Where(stage => Keeps(leftOut, batch, "stage", stage.At, WithinBounds.WhyNot(stage)))],
        Losses = Losses(leftOut, batch),
    };

    // Each look is judged beside the last one that was kept.
    private static List<Look> Looks(LeftOut leftOut, Batch batch)
    {
        var kept = new List<Look>(batch.Looks.Count);
        foreach (var look in batch.Looks)
        {
            var soFar = batch with { Looks = kept.Count == 0 ? [] : [kept[^1]] };
            if (Keeps(leftOut, batch, "look", look.At, WithinBounds.WhyNot(look) ?? LookCheck.WhyNot(soFar, look)?.ToString()))
            {
                kept.Add(look);
            }
        }

        return kept;
    }

    private static List<Loss> Losses(LeftOut leftOut, Batch batch)
    {
        var (kept, lost) = (new List<Loss>(batch.Losses.Count), 0);
        foreach (var loss in batch.Losses)
        {
            var why = WithinBounds.WhyNot(loss) ?? (lost + loss.Plants > batch.Seeds
                ? $"{lost + loss.Plants} plants would be lost of {batch.Seeds} seeds; take a loss back." : null);
            if (Keeps(leftOut, batch, "loss", loss.At, why))
            {
                kept.Add(loss);
                lost += loss.Plants;
            }
        }

        return kept;
    }

    private static bool Keeps(LeftOut leftOut, Batch batch, string what, Instant at, string? why) =>
        leftOut.Keeps(why, () => new DatedText($"The {what} of batch {batch.Id} at {at}").ToString());
}

using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Core.Batches;

/// <summary>What somebody recorded of a batch cannot be true; the message says why and what to do.</summary>
/// <param name="text">What is wrong.</param>
/// <param name="field">Which entry is wrong, as requests name it; null when it is not one entry.</param>
public sealed class BatchRefusedException(DatedText text, string? field = null) : RefusedException(text, field);

/// <summary>
/// What may be recorded of a batch: each method gives the batch as it is then, or refuses with <see cref="BatchRefusedException"/>.
/// The only home of these rules: whoever stores batches asks here before writing.
/// </summary>
public static class BatchRules
{
    /// <summary>A new batch with whatever was recorded of it already.</summary>
    public static Batch Sown(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        Refuse(batch.EndedAt < batch.SownAt, $"Batch \"{batch.Id}\" cannot end before it is sown.", "at");
        var sown = batch with { Stays = [], Looks = [], Stages = [], Losses = [] };
        sown = batch.Stays.Aggregate(sown, BatchStays.Placed);
        sown = batch.Looks.Aggregate(sown, Looked);
        sown = batch.Stages.Aggregate(sown, Done);
        return batch.Losses.Aggregate(sown, Lost);
    }

    /// <summary>Its seeds are those of a lot.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="lot">The lot that it names.</param>
    /// <param name="crop">What that lot is.</param>
    public static void RequireLot(Batch batch, LotId lot, CropId crop)
    {
        ArgumentNullException.ThrowIfNull(batch);
        Refuse(crop != batch.Crop, $"Lot \"{lot}\" is {crop}, not {batch.Crop}.", "lot");
    }

    /// <summary>Somebody looked and counted.</summary>
    public static Batch Looked(Batch batch, Look look)
    {
        ArgumentNullException.ThrowIfNull(look);
        if (LookCheck.WhyNot(batch, look) is { } why)
        {
            throw new BatchRefusedException(why, look.At < batch.SownAt ? "at" : "up");
        }

        RequireTime(batch, look.At);
        Refuse(batch.Looks.Any(other => other.At == look.At),
            $"There is a look at batch \"{batch.Id}\" at {look.At} already; remove it first.", "at");
        return batch with { Looks = Sorted(batch.Looks, look, one => one.At) };
    }

    /// <summary>Something was done, and not before (<see cref="RequireNew"/>).</summary>
    public static Batch Done(Batch batch, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(stage);
        RequireTime(batch, stage.At);
        var up = UpOf(batch);
        Refuse(
            stage.Kind == StageKind.TowelPlanted && batch.Method != SowingMethod.DampTowel,
            $"batch {batch.Id} was not sown on a towel, so nothing can be planted from one.",
            "done");
        Refuse(
            stage.Plants > up,
            $"batch {batch.Id}: {Count(stage.Plants ?? 0)} {(stage.Plants == 1 ? "was" : "were")} {Words(stage.Kind)}, but {Only(up, "is", "are")} up: record a look first.",
            "plants");
        return batch with { Stages = Sorted(batch.Stages, stage, one => one.At) };
    }

    /// <summary>A second tap is no second deed. Plants may be done in parts, and potted on again later.</summary>
    public static void RequireNew(Batch batch, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(stage);
        var same = batch.Stages.Where(one => one.Kind == stage.Kind).ToList();
        var isAgain = stage.Kind == StageKind.PottedOn
            ? same.Exists(one => (one.At - stage.At).TotalHours is > -1 and < 1)
            : same.Exists(one => one.Plants is null);
        Refuse(isAgain, $"batch {batch.Id}: that it was {Words(stage.Kind)} is recorded already.");

        var (before, up) = (same.Sum(one => one.Plants ?? 0), UpOf(batch));
        Refuse(
            stage.Kind != StageKind.PottedOn && before > 0 && before + (stage.Plants ?? 1) > up,
            $"batch {batch.Id}: {before} of the {up} that are up were {Words(stage.Kind)} already: take that back first if it was wrong.");
    }

    /// <summary>Plants were lost: of those that came up, never more.</summary>
    public static Batch Lost(Batch batch, Loss loss)
    {
        ArgumentNullException.ThrowIfNull(loss);
        RequireTime(batch, loss.At);
        var (up, lost) = (UpOf(batch), loss.Plants + batch.Losses.Sum(one => one.Plants));
        Refuse(
            lost > up,
            $"batch {batch.Id}: {Count(lost)} lost, but {Only(up, "was", "were")} ever up: correct the loss, or record a look first.",
            "plants");
        return batch with { Losses = Sorted(batch.Losses, loss, one => one.At) };
    }

    /// <summary>It was wetted again.</summary>
    public static Batch Wetted(Batch batch, Instant at)
    {
        RequireTime(batch, at);
        return batch.Wettings.Contains(at) ? batch : batch with { Wettings = Sorted(batch.Wettings, at, one => one) };
    }

    /// <summary>When it is to be planted out.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="day">The day in the home's zone; not before the sowing.</param>
    /// <param name="zone">The home's zone.</param>
    public static Batch ToPlantOut(Batch batch, LocalDate day, DateTimeZone zone)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var text = NodaTime.Text.LocalDatePattern.Iso.Format(day);
        Refuse(day < batch.SownAt.InZone(zone).Date, $"{batch.Id} cannot be planted out on {text}, before it was sown.", "day");
        return batch with { PlantOut = day };
    }

    /// <summary>How many plants are alive as far as was recorded: up, less the lost.</summary>
    public static int Alive(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return UpOf(batch) - batch.Losses.Sum(loss => loss.Plants);
    }

    /// <summary>Between the sowing and the end.</summary>
    internal static void RequireTime(Batch batch, Instant at)
    {
        ArgumentNullException.ThrowIfNull(batch);
        Refuse(at < batch.SownAt, $"Batch \"{batch.Id}\" was sown at {batch.SownAt}; {at} is before that.", "at");
        Refuse(at > batch.EndedAt, $"Batch \"{batch.Id}\" ended at {batch.EndedAt}; {at} is after that.", "at");
    }

    internal static void Refuse(bool wrong, FormattableString text, string? field = null)
    {
        if (wrong)
        {
            throw new BatchRefusedException(new(text), field);
        }
    }

    /// <summary>With one more, in order of time; of two of one time the later word comes last.</summary>
    internal static IReadOnlyList<T> Sorted<T>(IReadOnlyList<T> known, T added, Func<T, Instant> timeOf)
    {
        var at = known.Count;
        while (at > 0 && timeOf(known[at - 1]) > timeOf(added))
        {
            at--;
        }

        var sorted = new List<T>(known.Count + 1);
        sorted.AddRange(known);
        sorted.Insert(at, added);
        return sorted;
    }

    private static string Count(int plants) => $"{plants} {(plants == 1 ? "plant" : "plants")}";

    private static string Only(int up, string one, string more) => up switch
    {
        0 => $"none {one}",
        1 => $"only 1 {one}",
        _ => $"only {up} {more}",
    };

    private static int UpOf(Batch batch) => batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0;

    private static string Words(StageKind kind) => kind switch
    {
        StageKind.Uncovered => "uncovered",
        StageKind.MovedToLight => "moved to the light",
        StageKind.TowelPlanted => "planted from the towel",
        StageKind.PrickedOut => "pricked out",
        StageKind.PottedOn => "potted on",
        StageKind.HardeningOff => "hardened off",
        _ => "planted out",
    };
}

using Chamber.Core.Crops;

namespace Chamber.Core.Batches;

/// <summary>What cannot be true of a batch, in one sentence with the mend. Looks are checked by <c>LookCheck</c>.</summary>
public static class BatchCheck
{
    /// <summary>Why a batch cannot stand as it is, or null when it can.</summary>
    public static string? Refuse(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        if (batch.Seeds < 1)
        {
            return $"batch {batch.Id} has {batch.Seeds} seeds: sow at least one.";
        }

        if (batch.Containers < 1)
        {
            return $"batch {batch.Id} fills {batch.Containers} containers: it stands in at least one.";
        }

        return RefuseStays(batch) ?? RefuseStages(batch) ?? RefuseLosses(batch);
    }

    /// <summary>
    /// Why a stage cannot be written down once more, or null when it can: a second tap is no second deed. Plants may be done in parts, and
    /// potted on again later.
    /// </summary>
    public static string? RefuseAgain(Batch batch, Stage stage)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var same = batch.Stages.Where(one => one.Kind == stage.Kind).ToList();
        if (stage.Kind == StageKind.PottedOn)
        {
            return same.Exists(one => (one.At - stage.At).TotalHours is > -1 and < 1)
                ? $"batch {batch.Id}: that it was potted on is written down already." : null;
        }

        if (same.Exists(one => one.Plants is null))
        {
            return $"batch {batch.Id}: that it was {Words(stage.Kind)} is written down already.";
        }

        var (before, up) = (same.Sum(one => one.Plants ?? 0), batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0);
        return before > 0 && before + (stage.Plants ?? 1) > up
            ? $"batch {batch.Id}: {before} of the {up} that are up were {Words(stage.Kind)} already: take that back first if it was wrong."
            : null;
    }

    /// <summary>How many plants are alive as far as was written down: up, less the lost.</summary>
    public static int Alive(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return (batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0) - batch.Losses.Sum(loss => loss.Plants);
    }

    private static string? RefuseStays(Batch batch)
    {
        for (var i = 0; i < batch.Stays.Count; i++)
        {
            var stay = batch.Stays[i];
            if (stay.When.HasStart && stay.When.Start < batch.SownAt)
            {
                return $"batch {batch.Id} cannot stand on {stay.Spot} before it was sown.";
            }

            if (i + 1 < batch.Stays.Count && (!stay.When.HasEnd || stay.When.End > batch.Stays[i + 1].When.Start))
            {
                return $"batch {batch.Id} cannot stand on {stay.Spot} and on {batch.Stays[i + 1].Spot} at once: end the stay on "
                    + $"{stay.Spot} first (a move does both).";
            }
        }

        return null;
    }

    private static string? RefuseStages(Batch batch)
    {
        if (batch.Stages.FirstOrDefault(stage => stage.At < batch.SownAt) is { } early)
        {
            return $"batch {batch.Id} cannot be {Words(early.Kind)} before it was sown.";
        }

        if (batch.Stages.FirstOrDefault(stage => stage.Kind == StageKind.TowelPlanted) is not null
            && batch.Method != SowingMethod.DampTowel)
        {
            return $"batch {batch.Id} was not sown on a towel, so nothing can be planted from one.";
        }

        var up = batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0;
        return batch.Stages.FirstOrDefault(stage => stage.Plants > up) is { } many
            ? $"batch {batch.Id}: {many.Plants} plants were {Words(many.Kind)}, but only {up} are up: record a look first."
            : null;
    }

    private static string? RefuseLosses(Batch batch) =>
        batch.Losses.Count > 0 && Alive(batch) < 0
            ? $"batch {batch.Id}: {batch.Losses.Sum(loss => loss.Plants)} plants lost, but only "
                + $"{(batch.Looks.Count > 0 ? batch.Looks[^1].Up : 0)} were ever up: correct the loss, or record a look first."
            : null;

    internal static string Words(StageKind kind) => kind switch
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

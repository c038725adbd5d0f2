using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>
/// A home while facts are folded into it: each changes it in place. Everything in the tables is a value that never changes, so a
/// copy of the tables is a copy of the home.
/// </summary>
internal sealed class HomeFold
{
    public Dictionary<SpotId, Spot> Spots { get; private init; } = [];

    public Dictionary<ProbeId, ProbeEntry> Probes { get; private init; } = [];

    /// <summary>Of each probe, in order of time.</summary>
    public Dictionary<ProbeId, IReadOnlyList<Station>> Stations { get; private init; } = [];

    /// <summary>Of each probe, in order of time.</summary>
    public Dictionary<ProbeId, IReadOnlyList<Calibration>> Calibrations { get; private init; } = [];

    /// <summary>Of each probe, in order of time.</summary>
    public Dictionary<ProbeId, IReadOnlyList<SetAside>> SetAside { get; private init; } = [];

    public Dictionary<LotId, Lot> Lots { get; private init; } = [];

    /// <summary>Of each lot, in order of time.</summary>
    public Dictionary<LotId, IReadOnlyList<LotTest>> Tests { get; private init; } = [];

    public Dictionary<BatchId, Batch> Batches { get; private init; } = [];

    /// <summary>Crops of one's own, each as JSON.</summary>
    public Dictionary<CropId, string> Crops { get; private init; } = [];

    public Dictionary<string, string> Settings { get; private init; } = [];

    public List<Work> Work { get; private init; } = [];

    public List<Note> Notes { get; private init; } = [];

    /// <summary>Limits that somebody has chosen for a batch or a spot.</summary>
    public Dictionary<FactSubject, OwnLimits> Limits { get; private init; } = [];

    public List<AlertMark> AlertMarks { get; private init; } = [];

    /// <summary>Former names with the names that came after them.</summary>
    public List<(FactSubject From, FactSubject To)> Renamed { get; private init; } = [];

    /// <summary>A home as a store kept it.</summary>
    public static HomeFold Of(HomeParts parts) => new()
    {
        Spots = parts.Spots.ToDictionary(spot => spot.Id),
        Probes = parts.Probes.ToDictionary(entry => entry.Probe.Id),
        Stations = ByKey(parts.Stations, one => one.Probe),
        Calibrations = ByKey(parts.Calibrations, one => one.Probe),
        SetAside = ByKey(parts.SetAside, one => one.Probe),
        Lots = parts.Lots.ToDictionary(lot => lot.Id),
        Tests = ByKey(parts.Tests, one => one.Lot),
        Batches = parts.Batches.ToDictionary(batch => batch.Id),
        Crops = parts.Crops.ToDictionary(one => one.Crop, one => one.Json),
        Settings = new(parts.Settings),
        Work = [.. parts.Work],
        Notes = [.. parts.Notes],
        Limits = parts.Limits.ToDictionary(one => one.About),
    };

    public HomeFold Copy() => new()
    {
        Spots = new(Spots),
        Probes = new(Probes),
        Stations = new(Stations),
        Calibrations = new(Calibrations),
        SetAside = new(SetAside),
        Lots = new(Lots),
        Tests = new(Tests),
        Batches = new(Batches),
        Crops = new(Crops),
        Settings = new(Settings),
        Work = [.. Work],
        Notes = [.. Notes],
        Limits = new(Limits),
        AlertMarks = [.. AlertMarks],
        Renamed = [.. Renamed],
    };

    public void Require(SpotId spot) =>
        FactRefusedException.When(!Spots.ContainsKey(spot), $"There is no spot \"{spot}\"; set it up first.", "spot");

    public void Require(ProbeId probe) =>
        FactRefusedException.When(!Probes.ContainsKey(probe), $"There is no probe \"{probe}\"; set it up first, or let it speak once.");

    public Lot Require(LotId lot)
    {
        FactRefusedException.When(!Lots.ContainsKey(lot), $"There is no lot \"{lot}\"; record it first.", "lot");
        return Lots[lot];
    }

    public Batch Require(BatchId batch)
    {
        FactRefusedException.When(!Batches.ContainsKey(batch), $"There is no batch \"{batch}\".");
        return Batches[batch];
    }

    /// <summary>A thing has another name from now on; what is kept of it by name goes with it.</summary>
    public void Rename(FactSubject from, FactSubject to)
    {
        Renamed.Add((from, to));
        for (var i = 0; i < Notes.Count; i++)
        {
            Notes[i] = Notes[i].About == from ? Notes[i] with { About = to } : Notes[i];
        }

        Rename(Limits, from, to, own => own with { About = to });
        Rename(Settings, ShownNames.KeyOf(from), ShownNames.KeyOf(to), shown => shown);
    }

    /// <summary>A new name is a free one.</summary>
    public static void RequireFree(FactSubject name, bool isTaken) =>
        FactRefusedException.When(isTaken,
            $"There is a {name.Kind.ToString().ToLowerInvariant()} \"{name}\" already; take another name.", "to");

    /// <summary>What is kept of a thing, in order of time, with one more.</summary>
    public static void Add<TKey, T>(Dictionary<TKey, IReadOnlyList<T>> table, TKey key, T added, Func<T, Instant> timeOf)
        where TKey : notnull =>
        table[key] = BatchRules.Sorted(table.GetValueOrDefault(key) ?? [], added, timeOf);

    private static Dictionary<TKey, IReadOnlyList<T>> ByKey<TKey, T>(IReadOnlyList<T> all, Func<T, TKey> keyOf)
        where TKey : notnull => all.GroupBy(keyOf).ToDictionary(some => some.Key, IReadOnlyList<T> (some) => [.. some]);

    /// <summary>The same under another name.</summary>
    public static void Rename<TKey, T>(Dictionary<TKey, T> table, TKey from, TKey to, Func<T, T> change)
        where TKey : notnull
    {
        if (table.Remove(from, out var found))
        {
            table[to] = change(found);
        }
    }
}

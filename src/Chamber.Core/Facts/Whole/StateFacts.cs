using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Homes;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Whole;

/// <summary>
/// The facts that make a home as it is: for a home that was kept without facts, and for one that joins another. Who wrote what, and
/// what was corrected, is not in it.
/// </summary>
public static class StateFacts
{
    /// <summary>In acts that belong together, in an order in which each can be written down after the one before.</summary>
    /// <param name="home">The home. Numbers beyond bounds come in separate facts, so that the thing itself stays.</param>
    public static IReadOnlyList<IReadOnlyList<DatedFact>> Of(HomeState home)
    {
        ArgumentNullException.ThrowIfNull(home);
        var start = Earliest(home);
        return
        [
            .. home.Spots.Select(spot => Of(spot, start)),
            .. home.Probes.Select(entry => Of(entry, start)),
            .. Unnamed(home).Select(IReadOnlyList<DatedFact> (probe) => [new ProbeSetUp(probe).At(start)]),
            .. home.Stations.Where(one => one.When.HasStart).Select(IReadOnlyList<DatedFact> (one) =>
                [new ProbeStood(one.Probe, one.Spot, one.When.HasEnd ? one.When.End : null).At(one.When.Start)]),
            .. home.Calibrations.Select(IReadOnlyList<DatedFact> (one) => [ProbeCalibrated.Of(one)]),
            .. home.SetAside.Select(IReadOnlyList<DatedFact> (one) => [new ReadingsSetAside(one.Probe, one.When.End,
                one.Why).At(one.When.Start)]),
            .. home.Crops.Select(IReadOnlyList<DatedFact> (one) => [new CropNoted(one.Crop, one.Json).At(start)]),
            .. home.Settings.Where(one => ShownNames.SubjectOf(one.Key) is null).Select(
                IReadOnlyList<DatedFact> (one) => [new SettingChosen(one.Key, one.Value).At(start)]),
            .. ParentsFirst(home).Select(Of),
            .. home.Batches.Select(BatchFacts.Of),
            .. home.Tests.Select(IReadOnlyList<DatedFact> (test) => [LotTested.Of(test)]),
            .. home.Notes.Select(IReadOnlyList<DatedFact> (note) =>
                [new Noted(note.Text, BatchOf(note.About), SpotOf(note.About)).At(note.At)]),
            .. home.Limits.Select(IReadOnlyList<DatedFact> (own) =>
                [new LimitsChosen(own.TooHot, own.TooCold, BatchOf(own.About), SpotOf(own.About)).At(start)]),
            .. ShownNames.Of(home.Settings).All.Select(IReadOnlyList<DatedFact> (one) => [new ShownAs(one.Thing, one.Shown).At(start)]),
            .. home.Work.Select(IReadOnlyList<DatedFact> (work) => [new WorkPlanned(work.When.End, work.Spot).At(work.When.Start)]),
        ];
    }

    private static BatchId? BatchOf(FactSubject about) => about.Kind == FactSubjectKind.Batch ? new(about.Name) : null;

    private static SpotId? SpotOf(FactSubject about) => about.Kind == FactSubjectKind.Spot ? new(about.Name) : null;

    private static IReadOnlyList<DatedFact> Of(Spot spot, Instant at) => WithinBounds.WhyNot(spot) is null
        ? [new SpotSetUp(spot.Id, spot.Kind, spot.Light, spot.Room).At(at)]
        : [new SpotSetUp(spot.Id, spot.Kind, spot.Light).At(at), new SpotSetUp(spot.Id, Room: spot.Room).At(at)];

    private static IReadOnlyList<DatedFact> Of(ProbeEntry entry, Instant at)
    {
        var probe = entry.Probe;
        return WithinBounds.WhyNot(probe) is null
            ? [new ProbeSetUp(probe.Id, probe.Measurand, probe.MaxGap, entry.HandRead, entry.Note).At(at)]
            : [new ProbeSetUp(probe.Id, probe.Measurand, null, entry.HandRead, entry.Note).At(at),
                new ProbeSetUp(probe.Id, MaxGap: probe.MaxGap).At(at)];
    }

    private static IReadOnlyList<DatedFact> Of(Lot lot) => WithinBounds.WhyNot(lot) is null
        ? [LotNoted.Between(null, lot, lot.CountedAt)]
        : [new LotNoted(lot.Id, lot.Crop, 0).At(WithinBounds.WhyNot(lot.CountedAt) is null ? lot.CountedAt : NodaConstants.UnixEpoch),
            LotNoted.Between(null, lot, lot.CountedAt)];

    // Probes that only spoke, and stood somewhere all the same.
    private static IEnumerable<ProbeId> Unnamed(HomeState home) => home.Stations.Select(one => one.Probe)
        .Concat(home.Calibrations.Select(one => one.Probe))
        .Where(probe => home.Probe(probe) is null)
        .Distinct();

    private static List<Lot> ParentsFirst(HomeState home)
    {
        var (left, sorted) = (home.Lots.ToList(), new List<Lot>());
        while (left.Count > 0)
        {
            var ready = left.Where(lot => lot.Parent is not { } parent || left.TrueForAll(other => other.Id != parent)).ToList();

            // A circle, as an editor of databases can make it: the fold refuses it and tells.
            ready = ready.Count > 0 ? ready : [.. left];
            sorted.AddRange(ready);
            left.RemoveAll(ready.Contains);
        }

        return sorted;
    }

    private static Instant Earliest(HomeState home) => home.Stations.Where(one => one.When.HasStart).Select(one => one.When.Start)
        .Concat(home.Batches.Select(batch => batch.SownAt))
        .Concat(home.Lots.Select(lot => lot.CountedAt))
        .Concat(home.Calibrations.Select(one => one.From))
        .Where(at => WithinBounds.WhyNot(at) is null)
        .DefaultIfEmpty(NodaConstants.UnixEpoch)
        .Min();
}

using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Storage.Writing;

/// <summary>Probes, spots, and which probe was on which spot when.</summary>
public sealed class SetUpLedger
{
    private readonly HomePen pen;
    private readonly IHomeStore store;

    internal SetUpLedger(HomePen pen, IHomeStore store) => (this.pen, this.store) = (pen, store);

    /// <summary>Every spot, by name.</summary>
    public IReadOnlyList<Spot> Spots() => pen.Home.Spots;

    public Spot? Spot(SpotId id) => pen.Home.Spot(id);

    /// <summary>Adds a spot, or changes the one of this name.</summary>
    public void Save(Spot spot)
    {
        ArgumentNullException.ThrowIfNull(spot);
        pen.Write(home => home.Spot(spot.Id) is var old && old == spot ? [] : [new SpotSetUp(
            spot.Id,
            spot.Kind == old?.Kind ? null : spot.Kind,
            spot.Light == old?.Light ? null : spot.Light,
            spot.Room == old?.Room ? null : spot.Room).At(pen.Now)]);
    }

    /// <summary>Takes away a spot that nothing has ever stood on: what stood there rests on it, and the fold refuses.</summary>
    public void Remove(SpotId spot) => pen.WithdrawAll(FactSubject.Of(spot));

    /// <summary>Every probe that was set up, by name. <see cref="Journal.Probes"/> also knows those that only spoke.</summary>
    public IReadOnlyList<ProbeEntry> Probes() => pen.Home.Probes;

    public ProbeEntry? Probe(ProbeId id) => pen.Home.Probe(id);

    /// <summary>Sets up a probe, or changes the one of this name.</summary>
    public void Save(ProbeEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var probe = entry.Probe;
        pen.Write(home => home.Probe(probe.Id) is var old && old == entry ? [] : [new ProbeSetUp(
            probe.Id,
            probe.Measurand == old?.Probe.Measurand ? null : probe.Measurand,
            probe.MaxGap == old?.Probe.MaxGap ? null : probe.MaxGap,
            entry.HandRead == old?.HandRead ? null : entry.HandRead,
            entry.Note == old?.Note ? null : entry.Note).At(pen.Now)]);
    }

    /// <summary>Every stay of a probe on a spot, in order of time.</summary>
    public IReadOnlyList<Station> Stations() => pen.Home.Stations;

    /// <summary>
    /// Puts a probe on a spot from a time on. Where it stood before ends then. At a time before it stood anywhere it is there until
    /// it is known to have stood elsewhere; where that is the same spot, it was there since then.
    /// </summary>
    public void Put(ProbeId probe, SpotId spot, Instant at) =>
        pen.Write(home => [.. SetUpOf(home, probe), new ProbePlaced(probe, spot).At(at)]);

    /// <summary>Takes a probe away from where it stands.</summary>
    public void Lift(ProbeId probe, Instant at) =>
        pen.Write(home => [.. SetUpOf(home, probe), new ProbeTakenAway(probe).At(at)]);

    /// <summary>Writes down where a probe stood, after the fact.</summary>
    public void Record(Station station)
    {
        ArgumentNullException.ThrowIfNull(station);
        LedgerRefusedException.When(!station.When.HasStart, "A station needs a start.");
        pen.Write(home =>
        [
            .. SetUpOf(home, station.Probe),
            new ProbeStood(station.Probe, station.Spot, station.When.HasEnd ? station.When.End : null).At(station.When.Start),
        ]);
    }

    /// <summary>Every calibration, in order of time.</summary>
    public IReadOnlyList<Calibration> Calibrations() => pen.Home.Calibrations;

    /// <summary>Writes down a calibration; one of the same time replaces it.</summary>
    public void Save(Calibration calibration)
    {
        ArgumentNullException.ThrowIfNull(calibration);
        pen.Write(home => [.. SetUpOf(home, calibration.Probe), ProbeCalibrated.Of(calibration)]);
    }

    /// <summary>Takes a calibration back.</summary>
    public void Remove(Calibration calibration)
    {
        ArgumentNullException.ThrowIfNull(calibration);
        pen.Withdraw(
            FactSubject.Of(calibration.Probe),
            fact => fact.Fact is ProbeCalibrated && fact.At == calibration.From,
            new($"Probe \"{calibration.Probe}\" has no calibration of {calibration.From}."));
    }

    /// <summary>Readings that are not to be used, in order of time.</summary>
    public IReadOnlyList<SetAside> SetAside() => pen.Home.SetAside;

    // One that only spoke until now is set up with the first thing that is written down of it.
    private IReadOnlyList<DatedFact> SetUpOf(HomeState home, ProbeId probe) =>
        home.Probe(probe) is null && AtHand.Of(store.ProbesAsync()).Contains(probe) ? [new ProbeSetUp(probe).At(pen.Now)] : [];
}

using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>What people set up of spots and probes: the same for the command line, the page and the API.</summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="Core.RefusedException"/>, and then nothing was
/// written.</remarks>
internal sealed class HomeSpots(HomeReader home, Instant now)
{
    private SetUpLedger Ledger => home.Writing(now).SetUp;

    /// <summary>Adds a spot, or changes the one with this name.</summary>
    public Spot Save(SpotId id, SpotRequest asked)
    {
        var old = Ledger.Spot(id);
        var spot = new Spot(
            id,
            asked.Kind ?? old?.Kind ?? SpotKind.Shelf,
            asked.Light ?? old?.Light ?? LightLevel.Dim,
            asked.Room ?? old?.Room ?? 1);
        BadInputException.In("room", () => Bounds.Room.Require(spot.Room));
        Ledger.Save(spot);
        return spot;
    }

    public void Remove(string spot) => Ledger.Remove(home.RequireSpot(spot).Id);

    /// <summary>Sets up a probe, or changes the one with this name; with a spot it is there from now on.</summary>
    public ProbeEntry Save(ProbeId id, ProbeRequest asked)
    {
        var chosen = asked.Spot is { } typed ? BadInputException.In("spot", () => home.RequireSpot(typed)) : null;
        var old = Ledger.Probe(id);
        var entry = new ProbeEntry(
            new(id, asked.Measures ?? old?.Probe.Measurand ?? Measurand.Air, asked.MaxGap ?? old?.Probe.MaxGap ?? Probe.DefaultMaxGap),
            asked.HandRead ?? old?.HandRead ?? false,
            old?.Note);
        BadInputException.In("maxGap", () => Bounds.MaxGap.Require(entry.Probe.MaxGap));
        Ledger.Save(entry);
        if (chosen is not null && !StandsOn(id, chosen.Id))
        {
            Ledger.Put(id, chosen.Id, now);
        }

        return entry;
    }

    /// <summary>Says that a probe is on a spot; one that only spoke until now is set up with it.</summary>
    /// <returns>How long: it ends where the probe is known to have been moved on.</returns>
    public Station Move(ProbeId probe, MoveRequest to)
    {
        var spot = BadInputException.In("spot", () => home.RequireSpot(to.Spot));
        var at = home.PastOf(to.At, now);
        if (Ledger.Probe(probe) is null)
        {
            Ledger.Save(new ProbeEntry(new(probe, Measurand.Air, Probe.DefaultMaxGap)));
        }

        Ledger.Put(probe, spot.Id, at);
        return Ledger.Stations().Single(station => station.Probe == probe && station.When.Contains(at));
    }

    /// <summary>Takes a probe off its spot.</summary>
    /// <returns>Since when.</returns>
    public Instant Lift(ProbeId probe, MomentRequest when)
    {
        var at = home.PastOf(when.At, now);
        Ledger.Lift(probe, at);
        return at;
    }

    private bool StandsOn(ProbeId probe, SpotId spot) =>
        Ledger.Stations().Any(station => station.Probe == probe && station.Spot == spot && !station.When.HasEnd);
}

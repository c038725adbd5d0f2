using Chamber.Core.Batches;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What is said of batches, wherever they stand: a move neither ends such an alert nor dates it anew.</summary>
public sealed partial class HomeWatch
{
    // Each move of a batch may change what it brings to the next place.
    private const int MovesMax = 16;

    private readonly List<Alert> batchesTold = [];
    private bool batchesTurned = true;

    private BatchDeparture? CarriedTo(Batch batch, int stay) =>
        stay > 0 && places.TryGetValue(Place.Of(batch.Stays[stay - 1].Spot), out var before)
            ? before.Watch.DepartureOf(batch.Id, PlaceTimeline.EndOf(batch, stay - 1))
            : null;

    /// <summary>Lays what batches bring along on the places that they came to; those that must be folded again for it are late.</summary>
    private void CarryOver()
    {
        var any = false;
        foreach (var place in places.Values)
        {
            any |= place.Watch.HasDepartures;
            place.Watch.HasDepartures = false;
        }

        if (!any)
        {
            return;
        }

        foreach (var spot in facts.Batches.SelectMany(batch => batch.Batch.Stays.Skip(1)).Select(stay => stay.Spot).Distinct())
        {
            if (places.TryGetValue(Place.Of(spot), out var place))
            {
                place.Carry(PlaceTimeline.OfSpot(spot, facts, CarriedTo));
            }
        }
    }

    private void RefoldCarried(Func<Place, ProbeId, IEnumerable<Reading>> read, Instant now)
    {
        for (var round = 0; round < MovesMax; round++)
        {
            CarryOver();
            var late = places.Values.Select(place => (Place: place, Wanted: place.TakeLate())).Where(place => place.Wanted is not null).ToList();
            if (late.Count == 0)
            {
                return;
            }

            foreach (var (place, wanted) in late)
            {
                place.Refold(InOrder.Merge(place.Probes.Select(probe => read(place.Place, probe).Where(reading => wanted!.From is not { } from || reading.MeasuredAt >= from))), now.ToUnixTimeTicks());
            }
        }
    }

    private void TellBatches(Instant now, List<WatchEvent> events)
    {
        // A place that is about to be folded again does not know yet what a batch brings along.
        if (!batchesTurned || places.Values.Any(place => place.AwaitsCarried))
        {
            return;
        }

        batchesTurned = false;
        ToldAlerts.Tell(batchesTold, PresentOfBatches(), _ => false, toldUpTo, now, events);
    }

    // A place that a batch has left holds the first half of an alert, closed there; the next one goes on with the same.
    private List<Alert> PresentOfBatches() =>
    [
        .. places.Values.SelectMany(place => place.Watch.Alerts()).Where(alert => alert.Subject.Kind == SubjectKind.Batch)
            .GroupBy(alert => (alert.Kind, alert.Subject, alert.OpenedAt))
            .Select(same => same.FirstOrDefault(alert => alert.IsOpen) ?? same.MaxBy(alert => alert.ClosedAt)!),
    ];
}

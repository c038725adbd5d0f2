using Chamber.Core.Batches;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts;

/// <summary>Batches that leave for another place, and what they bring along.</summary>
internal sealed partial class PlaceWatch
{
    // More moves than a batch makes in the time that is folded again.
    private const int DepartureMax = 64;

    /// <summary>Whether a batch has left since this was last set to false.</summary>
    public bool HasDepartures { get; set; }

    /// <summary>What a batch took along when it left; null when it has not left at that instant.</summary>
    public BatchDeparture? DepartureOf(BatchId batch, long at) => departures.FindLast(left => left.At == at && left.Batch == batch);

    private void Depart(BatchState batch, long at)
    {
        var about = AlertSubject.Of(batch.Id);
        departures.Add(new(
            batch.Id, at, batch.WarmDarkHours, batch.CoverTold, batch.IsUncovered, batch.Stand, [.. Book.Open.Where(alert => alert.Subject == about).Select(alert => alert.Copy())]));
        HasDepartures = true;
        if (departures.Count > DepartureMax)
        {
            departures.RemoveAt(0);
        }
    }

    private void TakeOver(BatchDeparture carried)
    {
        if (batches.Find(known => known.Id == carried.Batch) is not { } batch)
        {
            return;
        }

        batch.WarmDarkHours = carried.WarmDarkHours;
        batch.CoverTold = carried.CoverTold;
        batch.Stand = carried.Stand;
        if (carried.IsUncovered)
        {
            batch.Uncover(carried.At);
        }

        foreach (var alert in carried.Alerts.Where(alert => HoldsHereToo(alert.Kind, batch)))
        {
            Book.Adopt(alert);
        }

        PlanDeadlines();
    }

    private static bool HoldsHereToo(AlertKind kind, BatchState batch) => kind switch
    {
        AlertKind.WarmAndDark => batch.Terms.Light != LightLevel.Bright,
        AlertKind.CoverShut => batch.IsCovered,
        AlertKind.LookNow => batch.FirstUpAt is null,
        _ => true,
    };
}

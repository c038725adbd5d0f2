using Chamber.Core.Batches;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>The batches that have left a location, and what they took along.</summary>
internal sealed class Departures
{
    // More moves than a batch makes in the time that is folded again.
    private const int CountMax = 64;

    private List<BatchDeparture> departures = [];

    /// <summary>Whether a batch has left since this was last set to false.</summary>
    public bool AreNew { get; set; }

    /// <summary>What a batch took along when it left; null when it has not left at that moment.</summary>
    public BatchDeparture? Find(BatchId batch, Moment at) =>
        departures.FindLast(departure => departure.At == at && departure.Batch == batch);

    public void Add(BatchState batch, Moment at, LocationState location, IEnumerable<ConditionWatch> watches)
    {
        departures.Add(new(
            batch.Id, at, batch.IsUncovered, batch.Stand,
            new([.. watches.Select(watch => watch.Carry(batch)).OfType<CarriedState>()]),
            new([.. location.Book.Open.Where(alert => alert.Subject == batch.Subject).Select(alert => alert.ToCarried())])));
        AreNew = true;
        if (departures.Count > CountMax)
        {
            departures.RemoveAt(0);
        }
    }

    /// <summary>A batch goes on here with what it brought along.</summary>
    public static void Resume(BatchDeparture departure, BatchState batch, LocationState location, IEnumerable<ConditionWatch> watches)
    {
        batch.Stand = departure.Stand;
        if (departure.IsUncovered)
        {
            batch.Uncover(departure.At);
        }

        foreach (var watch in watches)
        {
            foreach (var carried in departure.States)
            {
                watch.Resume(batch, carried);
            }

            if (departure.Alerts.FirstOrDefault(alert => alert.Kind == watch.Condition.Kind) is { } alert && watch.HoldsOn(batch))
            {
                location.Book.Adopt(alert);
            }
        }
    }

    public Departures Copy() => new() { AreNew = AreNew, departures = [.. departures] };
}

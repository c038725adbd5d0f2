using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What was refused.</summary>
public sealed partial class HomeWatch
{
    private readonly RefusalFold refused;

    // What is refused counts when it arrives: what was said of it before a start was said once and for all.
    private Instant refusedUpTo = Instant.MinValue;

    /// <summary>Takes in what arrived and is not used, in order of arrival. After a restart, those of the last day.</summary>
    public IReadOnlyList<WatchEvent> Step(IReadOnlyList<Refusal> refusals, Instant now)
    {
        foreach (var refusal in refusals)
        {
            refused.Take(refusal);
        }

        return Tell(now);
    }

    // A probe has at most one open alert of a kind: what its place says of it comes first.
    private List<Alert> PresentRefusals()
    {
        var byPlace = places.Values.SelectMany(place => place.Watch.Book.Open).Where(alert => alert.Kind == AlertKind.FaultyProbe).Select(alert => alert.Subject).ToHashSet();
        return [.. refused.Alerts().Where(alert => !alert.IsOpen || !byPlace.Contains(alert.Subject))];
    }
}

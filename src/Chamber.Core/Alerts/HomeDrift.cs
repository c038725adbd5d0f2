using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>When most spots shift the same way at the same time, it is the home that has grown warmer or cooler: one alert, not one a spot.</summary>
internal sealed class HomeDrift(Alert? open)
{
    // Two may be chance; of three and more, more than half is a common cause.
    private const int SpotsMin = 2;

    public Alert? Open { get; private set; } = open;

    public List<Alert> Closed { get; } = [];

    /// <summary>Whether an alert of a spot is told by the home's.</summary>
    public bool Covers(Alert alert) => Open is { } home && Math.Sign(ShiftOf(home)) == Math.Sign(ShiftOf(alert));

    /// <summary>Looks at all spots; returns whether the home's alert was opened or closed.</summary>
    public bool Update(IEnumerable<PlaceFold> places, Instant now)
    {
        var spots = places.Where(place => place.Place.Spot is not null).ToList();
        var shifts = spots.SelectMany(place => place.Watch.Book.Open).Where(alert => alert.Kind == AlertKind.Drifting).ToList();
        if (Open is not null)
        {
            return !IsCommon(shifts, spots, Math.Sign(ShiftOf(Open))) && Close(now);
        }

        return shifts.Count >= SpotsMin && ((IsCommon(shifts, spots, 1) && Begin(shifts, 1, now)) || (IsCommon(shifts, spots, -1) && Begin(shifts, -1, now)));
    }

    private static bool IsCommon(List<OpenAlert> shifts, List<PlaceFold> spots, int sign)
    {
        var watched = spots.Count(place => place.Watch.Stations.Any(station => station.Drift.IsMature));
        var alike = shifts.Count(alert => Math.Sign(alert[FigureName.ShiftKelvins]) == sign);
        return alike >= SpotsMin && 2 * alike > watched;
    }

    private bool Begin(List<OpenAlert> shifts, int sign, Instant now)
    {
        var alike = shifts.Where(alert => Math.Sign(alert[FigureName.ShiftKelvins]) == sign).ToList();
        var since = Instant.FromUnixTimeTicks(alike.Min(alert => alert.Since));
        var evidence = new AlertEvidence(null, since, now, [new(FigureName.ShiftKelvins, alike.Average(alert => alert[FigureName.ShiftKelvins])), new(FigureName.Count, alike.Count)]);
        Open = new(AlertKind.Drifting, AlertSubject.Home, Severity.Warning, since, now, null, null, evidence, []);
        return true;
    }

    private bool Close(Instant now)
    {
        Closed.Add(Open! with { ClosedAt = Instant.Max(now, Open.OpenedAt), CloseReason = CloseReason.Over });
        if (Closed.Count > AlertBook.ClosedMax)
        {
            Closed.RemoveAt(0);
        }

        Open = null;
        return true;
    }

    private static double ShiftOf(Alert alert) => alert.Evidence.Find(FigureName.ShiftKelvins) ?? 0;
}

using Chamber.Core.Facts;
using Chamber.Core.Facts.Alerts;
using Chamber.Core.Facts.Homes;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Storage.Writing;

/// <summary>What people do about alerts, and the times in which they work on a spot or in the home.</summary>
public sealed class AlertActs
{
    private readonly HomePen pen;
    private readonly IHomeRecords records;

    internal AlertActs(HomePen pen, IHomeRecords records) => (this.pen, this.records) = (pen, records);

    /// <summary>Somebody has seen it.</summary>
    public void See(long number, string by, Instant at)
    {
        var (alert, then) = Moment(number, at);
        pen.Write(new AlertSeen(alert.Kind.Name, About(alert), by).At(then));
    }

    /// <summary>No notices of it until then; null lifts that.</summary>
    public void Mute(long number, Instant? until)
    {
        var (alert, then) = Moment(number, pen.Now);
        pen.Write(new AlertMuted(alert.Kind.Name, About(alert), until).At(then));
    }

    /// <summary>Writes down that somebody works on a spot or in the home from a time on; what was under way there ends then.</summary>
    /// <param name="spot">Which spot; null for the whole home.</param>
    /// <param name="when">From when to when; with an end.</param>
    public void Work(SpotId? spot, Interval when) =>
        pen.Write(home => [.. Ends(home, spot, when.Start), new WorkPlanned(when.End, spot).At(when.Start)]);

    /// <summary>Ends what is under way at a time on a spot, or in the home where there is no spot.</summary>
    /// <returns>Whether anything was.</returns>
    public bool EndWork(SpotId? spot, Instant at) => pen.Write(home => Ends(home, spot, at)).Count > 0;

    private static IReadOnlyList<DatedFact> Ends(HomeState home, SpotId? spot, Instant at) =>
        home.Work.Any(work => work.Spot == spot && work.When.End > at) ? [new WorkEnded(spot).At(at)] : [];

    private static FactSubject About(AlertEntry alert) => new(Enum.Parse<FactSubjectKind>(alert.Subject.Kind.ToString()),
        alert.Subject.Name);

    // A fact speaks of the alert that was open at its time, or the last one before: of an alert that another one followed, it is told for
    // its end.
    private (AlertEntry Alert, Instant Then) Moment(long number, Instant at)
    {
        var alert = AtHand.Of(records.AlertAsync(number)) ?? throw new LedgerRefusedException($"There is no alert {number}.");
        var isFollowed = AtHand.Of(records.AlertsAsync(alert.OpenedAt)).Any(later => later.Number > number && later.Kind == alert.Kind
            && later.Subject == alert.Subject && later.OpenedAt <= at);
        return (alert, Instant.Max(alert.OpenedAt, isFollowed ? alert.ClosedAt ?? at : at));
    }
}

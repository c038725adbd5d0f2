using Chamber.Core.Alerts;
using Chamber.Core.Facts;

namespace Chamber.Club.Store;

/// <summary>By which name an alert speaks of something that was renamed since it was told.</summary>
internal static class AlertNames
{
    /// <param name="log">All that is written down of the home.</param>
    /// <param name="subject">What the alert is about, as it was called then.</param>
    /// <param name="known">The newest fact then.</param>
    /// <returns>What it is called now.</returns>
    public static AlertSubject Now(FactLog log, AlertSubject subject, long known)
    {
        if (subject.Kind == SubjectKind.Home || log.Home.Renamed.Count == 0)
        {
            return subject;
        }

        var then = FactLog.Of([.. log.Entries.TakeWhile(entry => entry.Number <= known)]).Home;
        return subject with { Name = then.NameIn(log.Home, new(Enum.Parse<FactSubjectKind>(subject.Kind.ToString()), subject.Name)).Name };
    }
}

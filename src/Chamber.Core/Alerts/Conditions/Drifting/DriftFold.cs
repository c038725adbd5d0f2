using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// The fold over the hours of a home that finds what has drifted: a spot, a probe on it, or the home. A function of the hours alone;
/// <see cref="Copy"/> keeps a state apart.
/// </summary>
internal sealed class DriftFold
{
    private const int SpotsMin = 2;
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    // A shift that has lasted so long is the usual.
    private static readonly TimeSpan UsualAfter = TimeSpan.FromDays(5);

    private SortedDictionary<(string Spot, string Probe), StationDrift> stations = new(Comparer<(string Spot, string Probe)>.Create(
        (one, other) => string.CompareOrdinal(one.Spot, other.Spot) is not 0 and var order ? order
            : string.CompareOrdinal(one.Probe, other.Probe)));

    private DriftState common = DriftState.OfResiduals();
    private Moment commonSince;

    /// <summary>The end of the hour folded last.</summary>
    public Moment Folded { get; private set; }

    public AlertBook Book { get; private set; } = new();

    /// <summary>Folds an hour.</summary>
    /// <param name="end">Its end.</param>
    /// <param name="hourOfDay">Its hour in the home's zone.</param>
    /// <param name="entries">What the locations have to say of it.</param>
    public void Fold(Moment end, int hourOfDay, IReadOnlyList<(SpotId Spot, HourEntry Entry)> entries)
    {
        Folded = end;
        var means = new List<(SpotId Spot, StationDrift Station, double Mean)>(entries.Count);
        foreach (var (spot, entry) in entries)
        {
            if (entry.Kind == HourEntryKind.Offset)
            {
                StationOf(spot, entry.Probe).Drift.Move(entry.Value);
            }
            else if (entry.Kind == HourEntryKind.Mean)
            {
                means.Add((spot, StationOf(spot, entry.Probe), entry.Value));
            }
        }

        var others = new OtherSpots();
        foreach (var (spot, station, mean) in means)
        {
            if (!station.Drift.IsShifted && station.Drift.OwnResidual(hourOfDay, mean) is { } off)
            {
                others.Add(spot, off);
            }
        }

        others.Sort();
        foreach (var (spot, station, mean) in means)
        {
            station.Take(end, hourOfDay, mean, others.Than(spot));
        }

        foreach (var (spot, station, _) in means)
        {
            Judge(spot, station, end);
        }

        JudgeHome(end, hourOfDay);
        foreach (var (spot, entry) in entries)
        {
            if (entry.Kind == HourEntryKind.Removed)
            {
                Book.ReleaseAll(holder => holder == HolderOf(spot, entry.Probe), entry.At, _ => []);
                stations.Remove((spot.Text, entry.Probe.Text));
            }
        }
    }

    /// <summary>Makes what is open equal to what was said before a restart.</summary>
    /// <param name="open">The open alerts of drift.</param>
    /// <param name="end">The end of the hour up to which that is known.</param>
    public void Resume(IReadOnlyList<Alert> open, Moment end)
    {
        // What the home does together is said once, and its spots are not named.
        var home = open.FirstOrDefault(alert => alert.Subject == AlertSubject.Home);
        foreach (var ((spot, _), station) in stations.Where(known => known.Value.ReportedAs is not null && home is null).ToList())
        {
            if (!open.Any(alert => alert.Kind == station.ReportedAs && alert.Subject.Name == spot))
            {
                station.Drift.Settle();
                Book.Withdraw(station.ReportedAs!.Value, AlertSubject.Of(new SpotId(spot)));
                station.ReportedAs = null;
            }
        }

        foreach (var alert in open.Where(alert => alert.Subject.Kind == SubjectKind.Spot && Book.Find(alert.Kind, alert.Subject) is null))
        {
            if (alert.Evidence.Probe is { } probe && stations.TryGetValue((alert.Subject.Name, probe.Text), out var station))
            {
                station.Resume(alert, end);
                Book.Resume(alert, HolderOf(new(alert.Subject.Name), probe));
            }
        }

        ResumeHome(home, end);
    }

    private void ResumeHome(Alert? open, Moment end)
    {
        var known = Book.Find(AlertKind.Drifting, AlertSubject.Home);
        if (open is null && known is not null)
        {
            common.Settle();
            Book.Withdraw(AlertKind.Drifting, AlertSubject.Home);
        }
        else if (open is not null && known is null)
        {
            common.Resume(Hours(open.Since, end));
            commonSince = Moment.Of(open.OpenedAt);
            Book.Resume(open, AlertSubject.Home.Name);
        }
    }

    private static int Hours(Instant since, Moment end) => (int)Math.Max(1, (end - Moment.Of(since)) / Hour);

    /// <summary>The alerts as they stand: those closed lately, then those open.</summary>
    public IEnumerable<Alert> Alerts() => Book.Closed.Concat(Book.Open.Select(alert => alert.ToAlert([])));

    /// <summary>What is usual for a probe on a spot at an hour of the day, °C; null before that is known.</summary>
    public double? UsualAt(SpotId spot, ProbeId probe, int hourOfDay) =>
        stations.TryGetValue((spot.Text, probe.Text), out var station) ? station.Drift.UsualAt(hourOfDay) : null;

    public DriftFold Copy()
    {
        var copy = (DriftFold)MemberwiseClone();
        copy.stations = new(stations.Comparer);
        foreach (var (key, station) in stations)
        {
            copy.stations[key] = station.Copy();
        }

        copy.common = common.Copy();
        copy.Book = Book.Copy();
        return copy;
    }

    private static double Median(List<double> values)
    {
        values.Sort();
        return values.Count % 2 == 1 ? values[values.Count / 2] : (values[values.Count / 2 - 1] + values[values.Count / 2]) / 2;
    }

    private static string HolderOf(SpotId spot, ProbeId probe) => $"{spot} {probe} drift";

    private StationDrift StationOf(SpotId spot, ProbeId probe)
    {
        if (!stations.TryGetValue((spot.Text, probe.Text), out var station))
        {
            stations[(spot.Text, probe.Text)] = station = new(probe);
        }

        return station;
    }

    private void Judge(SpotId spot, StationDrift station, Moment at)
    {
        var drift = station.Drift;
        if (!drift.IsShifted)
        {
            return;
        }

        var about = AlertSubject.Of(spot);
        if (station.ReportedAs is not { } kind)
        {
            kind = IsProbesOwn(spot, station, at) ? AlertKind.ProbesDisagree : AlertKind.Drifting;
            station.ReportedAs = kind;
            station.ReportedAt = at;
            var opened = Book.Raise(kind, about, Severity.Warning, at - drift.ShiftHours * Hour, at, HolderOf(spot, station.Probe));
            opened.Probe ??= station.Probe;
        }

        if (Book.Find(kind, about) is { } alert && (alert.Probe == station.Probe || !alert.IsHeldBy(HolderOf(spot, alert.Probe!.Value))))
        {
            alert.LastAt = at;
            alert[FigureName.LatestCelsius] = station.Mean;
            alert[FigureName.UsualCelsius] = drift.Expected;
            alert[FigureName.ShiftKelvins] = drift.Shift;
        }

        if (EndOf(drift, station.ReportedAt, at) is { } why)
        {
            Book.Release(kind, about, HolderOf(spot, station.Probe), at, why, _ => []);
            station.ReportedAs = null;
        }
    }

    private static CloseReason? EndOf(DriftState drift, Moment reportedAt, Moment at)
    {
        if (Math.Abs(drift.MeanResidual(12)) < DriftState.GoneKelvins)
        {
            drift.Settle();
            return CloseReason.Over;
        }

        if (at - reportedAt < UsualAfter)
        {
            return null;
        }

        drift.TakeAsUsual();
        return CloseReason.NowUsual;
    }

    // When another probe of the spot has not moved along, it is the probe that has moved.
    private bool IsProbesOwn(SpotId spot, StationDrift station, Moment at)
    {
        var hours = Math.Min(station.Drift.ShiftHours, 24);
        var shift = station.Drift.Shift;
        return stations.Any(known => known.Key.Spot == spot.Text && known.Value is var other && other != station && other.Drift.IsMature
            && at - other.At <= 2 * Hour
            && !(other.Drift.IsShifted && other.Drift.Shift * shift > 0)
            && other.Drift.MeanResidual(hours) * Math.Sign(shift) < Math.Abs(shift) / 2);
    }

    private void JudgeHome(Moment at, int hourOfDay)
    {
        var spots = OfSpots(at, station => station.OwnOff);
        if (spots.Count < SpotsMin)
        {
            return;
        }

        var found = common.Add(hourOfDay, Median(spots));
        if (!common.IsShifted)
        {
            return;
        }

        // Two may be chance; of three and more, more than half is a common cause.
        var alike = OfSpots(at, station => station.Drift.MeanOwnResidual(12))
            .Count(mean => mean * Math.Sign(common.Shift) >= Math.Abs(common.Shift) / 2);
        if (found)
        {
            if (2 * alike <= spots.Count || alike < SpotsMin)
            {
                common.Settle();
                return;
            }

            commonSince = at;
            Book.Raise(AlertKind.Drifting, AlertSubject.Home, Severity.Warning, at - common.ShiftHours * Hour, at, AlertSubject.Home.Name);
        }

        if (Book.Find(AlertKind.Drifting, AlertSubject.Home) is { } alert)
        {
            alert.LastAt = at;
            alert[FigureName.ShiftKelvins] = common.Shift;
            alert[FigureName.Count] = Math.Max(alike, alert[FigureName.Count] ?? 0);
        }

        if (EndOf(common, commonSince, at) is { } why)
        {
            Book.Release(AlertKind.Drifting, AlertSubject.Home, AlertSubject.Home.Name, at, why, _ => []);
        }
    }

    // A number of every spot that has an hour up to a moment, as the mean of its probes.
    private List<double> OfSpots(Moment at, Func<StationDrift, double> number)
    {
        var means = new List<double>(stations.Count);
        var (of, sum, count) = ("", 0.0, 0);
        foreach (var ((spot, _), station) in stations)
        {
            if (!station.Drift.IsMature || station.At != at)
            {
                continue;
            }

            if (count > 0 && spot != of)
            {
                means.Add(sum / count);
                (sum, count) = (0, 0);
            }

            (of, sum, count) = (spot, sum + number(station), count + 1);
        }

        if (count > 0)
        {
            means.Add(sum / count);
        }

        return means;
    }

    /// <summary>A probe on a spot.</summary>
    private sealed class StationDrift(ProbeId probe)
    {
        public ProbeId Probe { get; } = probe;

        public DriftState Drift { get; private set; } = new();

        /// <summary>The end of its last hour, its mean, and how far that lay off its own usual.</summary>
        public Moment At { get; private set; }

        public double Mean { get; private set; }

        public double OwnOff { get; private set; }

        /// <summary>As what the present shift was reported; null when there is none.</summary>
        public AlertKind? ReportedAs { get; set; }

        public Moment ReportedAt { get; set; }

        public void Take(Moment at, int hourOfDay, double mean, double? common)
        {
            (At, Mean, OwnOff) = (at, mean, Drift.OwnResidual(hourOfDay, mean) ?? 0);
            Drift.Add(hourOfDay, mean, common);
        }

        public void Resume(Alert alert, Moment end)
        {
            Drift.Resume(Hours(alert.Since, end));
            (ReportedAs, ReportedAt) = (alert.Kind, Moment.Of(alert.OpenedAt));
        }

        public StationDrift Copy()
        {
            var copy = (StationDrift)MemberwiseClone();
            copy.Drift = Drift.Copy();
            return copy;
        }
    }
}

using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>Something that needs a hand today: an alert or a reminder.</summary>
/// <param name="Cost">What a day of waiting costs, in plants (<see cref="WaitingCost"/>); null for danger, which comes before any number of
/// plants.</param>
/// <param name="Alert">The alert; null for a reminder.</param>
/// <param name="Reminder">The reminder; null for an alert.</param>
/// <param name="Crop">Of the reminder's batch.</param>
/// <param name="Spot">Where that stands, or where what an alert is about is.</param>
/// <param name="Seeds">How many were sown.</param>
/// <param name="Up">How many are up at the last look.</param>
/// <param name="Batches">Which batches can be recorded for: that of the reminder, or those that an alert is about.</param>
public sealed record TodayItem(
    double? Cost,
    AlertAnswer? Alert,
    Reminder? Reminder,
    CropId? Crop,
    SpotId? Spot,
    int Seeds,
    int Up,
    IReadOnlyList<BatchId> Batches);

/// <summary>What needs a hand now and what is coming.</summary>
/// <param name="Now">Needs a hand today, what costs most by waiting first.</param>
/// <param name="Coming">Reminders of the next days, soonest first.</param>
/// <param name="Quiet">Alerts that hold and were quieted for a while, the first to speak again first: they are no less true.</param>
public sealed record TodayAnswer(IReadOnlyList<TodayItem> Now, IReadOnlyList<Reminder> Coming, IReadOnlyList<AlertAnswer> Quiet);

/// <summary>Puts a day's chores in the order of what it costs to wait.</summary>
internal sealed class HomeToday(HomeReader home, Instant now)
{
    private readonly IReadOnlyList<Batch> batches = home.Ledger.OpenBatches;

    /// <param name="style">How alerts are worded.</param>
    /// <param name="daysAhead">How far to look ahead.</param>
    public TodayAnswer Read(WordStyle style, int daysAhead)
    {
        var today = now.InZone(home.Zone).Date;
        var reminders = new HomeReminders(home, now).All();
        var open = new HomeAlerts(home, style);
        var ranked = open.Open();
        var alerts = Alerts(ranked).ToList();

        var due = reminders.Where(reminder => reminder.From <= today).Select(reminder => Item(reminder, today, open)).ToList();
        return new(
            [.. alerts.Select(alert => Joined(alert, due)).Concat(due.Where(item => !alerts.Exists(alert => SaysTheSame(alert, item))))
                .OrderByDescending(item => item.Cost ?? double.PositiveInfinity)],
            [.. reminders.Where(reminder => reminder.From > today && reminder.From <= today.PlusDays(daysAhead))],
            [.. ranked.Where(one => IsQuiet(one.Entry)).OrderBy(one => one.Entry.MutedUntil).Select(one => one.Words)]);
    }

    // An alert that says the same as a reminder says it with more detail, and weighs at least as much.
    private static TodayItem Joined(TodayItem alert, List<TodayItem> due) =>
        alert.Cost is { } cost && due.Find(item => SaysTheSame(alert, item)) is { Cost: { } other }
            ? alert with { Cost = Math.Max(cost, other) } : alert;

    private static bool SaysTheSame(TodayItem alert, TodayItem due) =>
        alert.Batches.Contains(due.Reminder!.Batch) && due.Reminder.Kind switch
        {
            ReminderKind.Look => Is(alert, AlertKind.LookNow),
            ReminderKind.ToTheLight => Is(alert, AlertKind.WarmAndDark),
            ReminderKind.PlantFromTowel => Is(alert, AlertKind.CoverShut),
            ReminderKind.StopWaiting => Is(alert, AlertKind.StopWaiting),
            _ => false,
        };

    private static bool Is(TodayItem alert, AlertKind kind) => alert.Alert!.Condition == Choice.Word(kind);

    private IEnumerable<TodayItem> Alerts(IReadOnlyList<RankedAlert> ranked)
    {
        foreach (var (_, alert, words, cost) in ranked.Where(one => !IsQuiet(one.Entry)))
        {
            var about = About(alert);
            yield return new(double.IsFinite(cost) ? cost : null, words, null, null, SpotOf(alert), about.Sum(batch => batch.Seeds),
                about.Sum(Up), [.. about.Select(batch => batch.Id)]);
        }
    }

    private bool IsQuiet(AlertEntry entry) => entry.MutedUntil > now;

    private TodayItem Item(Reminder reminder, LocalDate today, HomeAlerts alerts)
    {
        var batch = batches.First(one => one.Id == reminder.Batch);
        var over = Math.Max(0, Period.DaysBetween(reminder.To, today));
        return new(
            WaitingCost.OfReminder(reminder.Kind, alerts.PlantsOf(batch.Id), over),
            null,
            reminder,
            batch.Crop,
            batch.Stays is [.., { When.HasEnd: false } stay] ? stay.Spot : null,
            batch.Seeds,
            Up(batch),
            [batch.Id]);
    }

    private IReadOnlyList<Batch> About(Alert alert) => alert.Subject.Kind switch
    {
        SubjectKind.Batch => [.. batches.Where(batch => batch.Id.Text == alert.Subject.Name)],
        SubjectKind.Spot =>
            [.. batches.Where(batch => batch.Stays is [.., { When.HasEnd: false } stay] && stay.Spot.Text == alert.Subject.Name)],
        _ => [],
    };

    private SpotId? SpotOf(Alert alert) => alert.Subject.Kind switch
    {
        SubjectKind.Spot => new SpotId(alert.Subject.Name),
        SubjectKind.Batch => About(alert) is [{ Stays: [.., { When.HasEnd: false } stay] }] ? stay.Spot : null,
        SubjectKind.Probe =>
            home.Ledger.Stations.FirstOrDefault(station => station.Probe.Text == alert.Subject.Name && !station.When.HasEnd)?.Spot,
        _ => null,
    };

    private static int Up(Batch batch) => batch.Looks is [.., var last] ? last.Up : 0;
}

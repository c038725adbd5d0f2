using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Chores;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using NodaTime.Text;
using NodaTime;

namespace Chamber.Core.Digests;

/// <summary>How a spot was over the last day.</summary>
/// <param name="Spot">Which spot.</param>
/// <param name="Low">The lowest temperature.</param>
/// <param name="High">The highest.</param>
/// <param name="Mean">The mean over the measured time.</param>
/// <param name="MeasuredHours">How much of the day was measured, 0 to 25.</param>
public sealed record SpotDay(SpotId Spot, Temperature Low, Temperature High, Temperature Mean, double MeasuredHours)
{
    /// <summary>Sums a trace up; null when nothing was measured.</summary>
    public static SpotDay? Of(SpotId spot, TemperatureTrace trace, DateTimeZone zone)
    {
        ArgumentNullException.ThrowIfNull(trace);
        var samples = trace.Stretches.SelectMany(stretch => stretch.Samples).Select(sample => sample.Temperature).ToList();
        if (samples.Count == 0)
        {
            return null;
        }

        var hours = HourlyMeans.Of(trace, zone);
        var weight = hours.Sum(hour => hour.MeasuredHours);
        var mean = weight > 0 ? Temperature.FromCelsius(hours.Sum(hour => hour.Mean.Celsius * hour.MeasuredHours) / weight) : samples[^1];
        return new(spot, samples.Min(), samples.Max(), mean, weight);
    }
}

/// <summary>What came up of a batch since the digest before.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Crop">The crop's common name.</param>
/// <param name="New">How many more, above 0.</param>
/// <param name="Up">How many in all.</param>
/// <param name="Seeds">Of so many.</param>
public sealed record Risen(BatchId Batch, string Crop, int New, int Up, int Seeds)
{
    /// <summary>What the looks since a moment found; null when they found no more.</summary>
    public static Risen? Since(Batch batch, string crop, Instant from)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var before = batch.Looks.Where(look => look.At < from).Select(look => look.Up).DefaultIfEmpty(0).Max();
        var now = batch.Looks.Select(look => look.Up).DefaultIfEmpty(0).Max();
        return now > before ? new(batch.Id, crop, now - before, now, batch.Seeds) : null;
    }
}

/// <summary>What a digest is made of.</summary>
public sealed record DigestFacts
{
    /// <summary>When it is made.</summary>
    public required Instant Now { get; init; }

    public required DateTimeZone Zone { get; init; }

    public TemperatureScale Scale { get; init; }

    /// <summary>All reminders; the digest takes reminders that are due, and those of the next two days.</summary>
    public IReadOnlyList<Reminder> Reminders { get; init; } = [];

    public IReadOnlyList<Risen> Risen { get; init; } = [];

    /// <summary>Every spot, with null where nothing was measured.</summary>
    public IReadOnlyList<(SpotId Spot, SpotDay? Day)> Spots { get; init; } = [];

    /// <summary>How people see spots and batches.</summary>
    public ShownNames Names { get; init; } = ShownNames.None;

    /// <summary>Open alerts in words, the worst first.</summary>
    public IReadOnlyList<AlertText> Open { get; init; } = [];

    /// <summary>Alerts that ended within the last day.</summary>
    public IReadOnlyList<AlertText> Over { get; init; } = [];

    /// <summary>Times of the last day in which nothing could be heard.</summary>
    public IReadOnlyList<Interval> NotWatched { get; init; } = [];
}

/// <summary>A digest in words. A part that has nothing to say is empty.</summary>
/// <param name="Title">The day and what matters most.</param>
/// <param name="ToDo">What needs a hand today, a line each.</param>
/// <param name="Coming">What needs one within two days.</param>
/// <param name="Up">What came up.</param>
/// <param name="Spots">How each spot was.</param>
/// <param name="Alerts">What is wrong, and what was.</param>
/// <param name="NotWatched">When nobody watched.</param>
public sealed record DigestText(string Title, string ToDo, string Coming, string Up, string Spots, string Alerts, string NotWatched);

/// <summary>Composes the digest of a day. The same facts give the same words.</summary>
public static class DailyDigest
{
    private const int DaysAhead = 2;
    private const double WholeDay = 23;

    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("ddd d MMM");
    private static readonly LocalTimePattern Clock = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    public static DigestText Of(DigestFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var today = facts.Now.InZone(facts.Zone).Date;
        var due = facts.Reminders.Where(reminder => reminder.From <= today).ToList();
        var coming = facts.Reminders.Where(reminder => reminder.From > today && reminder.From <= today.PlusDays(DaysAhead));
        return new(
            Title(today, due.Count, facts.Open.Count),
            Lines(due.Select(reminder => $"{facts.Names.Of(reminder.Batch)}: {reminder.Words}")),
            Lines(coming.Select(reminder => $"{Day.Format(reminder.From)}, {facts.Names.Of(reminder.Batch)}: {reminder.Words}")),
            Lines(facts.Risen.Select(risen =>
                $"{facts.Names.Of(risen.Batch)} ({risen.Crop}): {risen.New} more, {risen.Up} of {risen.Seeds} up.")),
            Lines(facts.Spots.Select(spot => SpotLine(facts.Names.Of(spot.Spot), spot.Day, facts.Scale))),
            Lines(facts.Open.Select(
                alert => string.Join(' ',
                new[] { $"{alert.Title}.", alert.ToDo, alert.CautionLine, CautionText.More([.. alert.Cautions]) }.Where(
                part => part.Length > 0))).Concat(facts.Over.Select(alert => $"Over: {alert.Title}."))),
            Lines(facts.NotWatched.Select(away => $"{Time(away.Start, facts)} to {(away.HasEnd ? Time(away.End, facts) : "now")}.")));
    }

    private static string Title(LocalDate today, int due, int open)
    {
        var hands = due switch
        {
            0 => "nothing to do",
            1 => "1 thing to do",
            _ => string.Create(CultureInfo.InvariantCulture, $"{due} things to do"),
        };
        var alerts = open switch
        {
            0 => "",
            1 => ", 1 alert is open",
            _ => string.Create(CultureInfo.InvariantCulture, $", {open} alerts are open"),
        };
        return $"{Day.Format(today)}: {hands}{alerts}";
    }

    private static string SpotLine(string spot, SpotDay? day, TemperatureScale scale) => day is null
        ? $"{spot}: nothing was measured."
        : $"{spot}: {scale.Show(new TemperatureBand(day.Low, day.High))}, mean "
            + $"{scale.Show(day.Mean)}{(day.MeasuredHours < WholeDay ? string.Create(CultureInfo.InvariantCulture, $" ({day.MeasuredHours:0} h measured)") : "")}.";

    private static string Time(Instant at, DigestFacts facts) => Clock.Format(at.InZone(facts.Zone).TimeOfDay);

    private static string Lines(IEnumerable<string> lines) => string.Join('\n', lines);
}

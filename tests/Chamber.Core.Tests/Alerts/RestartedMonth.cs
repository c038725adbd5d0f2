using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>A month of a home in which much goes wrong, with a ledger beside the watch as the service keeps one.</summary>
internal sealed class RestartedMonth
{
    private const string Home = """
        start 2026-03-02
        crop tomato base 7.6 best 25 to 29 ceiling 40 cool 16.1 hot 30.6 stand 20=98 25=97 30=83 35=46
        spot mat is a heat mat, dark
        spot shelf is a shelf, dim
        spot sill is a sill, bright
        spot ledge is a shelf, dim
        probe soil measures media on mat, silent after 1 h
        probe mist measures air on mat
        probe high measures air on shelf
        probe pane measures air on sill
        probe spare measures air, silent after 2 h
        probe late measures air, silent after 2 h
        sow T1: 12 tomato in covered mix on mat
        sow T2: 12 tomato in covered mix on shelf
        day 2 10:00: move late to ledge
        day 3 07:00: forecast T2 may be up 35
        day 6 06:00: look at T1, 3 up
        day 8 12:00: move T1 to shelf
        day 9 10:00: move spare to shelf
        day 12 09:00: move T1 to sill
        day 13 09:00: uncover T1
        day 22 08:00: broker lost
        day 22 15:00: broker back
        day 24 07:00: forecast T2 is over 4 by late
        """;

    private readonly HomeFacts facts = WatchScript.Parse("month", Home).Facts;
    private readonly Dictionary<ProbeId, List<Reading>> journal = [];
    private readonly List<Refusal> refusals = [];
    private readonly Random weather = new(7);
    private readonly Instant start;
    private readonly List<string> told = [];
    private HomeWatch watch;
    private Instant now;

    private RestartedMonth()
    {
        watch = new(facts);
        start = facts.Batches[0].Batch.SownAt;
    }

    /// <summary>The watch at the end.</summary>
    public HomeWatch Watch => watch;

    /// <summary>What people could be told, in order, and the ledger at the end.</summary>
    public string Text => string.Join('\n', [.. told, "", .. Final]);

    /// <summary>The alerts as the ledger keeps them.</summary>
    public List<Alert> Ledger { get; } = [];

    private IEnumerable<string> Final => Ledger.OrderBy(alert => alert.OpenedAt).ThenBy(alert => alert.Kind, ConditionRegistry.Order)
        .ThenBy(alert => alert.Subject.Name, StringComparer.Ordinal).Select(Short);

    /// <param name="seed">Of the moments at which it stops and starts; null for never.</param>
    /// <param name="stopsADay">How often, on average.</param>
    /// <param name="days">For how long.</param>
    public static RestartedMonth Live(int? seed, double stopsADay = 0.5, int days = 30)
    {
        var month = new RestartedMonth();
        var random = new Random(seed ?? 0);
        for (var step = 0; step < days * 144; step++)
        {
            month.Pass(step);
            if (seed is not null && random.NextDouble() < stopsADay / 144)
            {
                month.Restart();
            }
        }

        return month;
    }

    private void Pass(int step)
    {
        now = start + Duration.FromMinutes(10 * step + 5);
        var (day, hour) = (step / 144.0 + 1, step % 144 / 6.0);
        Reading[] readings = [.. Readings(day, hour)];
        foreach (var reading in readings)
        {
            if (!journal.TryGetValue(reading.Probe, out var kept))
            {
                journal[reading.Probe] = kept = [];
            }

            kept.Add(reading);
        }

        Hear(watch.Step(readings, now));
        foreach (var refusal in Refusals(step))
        {
            refusals.Add(refusal);
            Hear(watch.Step([refusal], now));
        }

        now += Duration.FromMinutes(3);
        Hear(watch.Step(now));
    }

    private IEnumerable<Reading> Readings(double day, double hour)
    {
        var sun = Math.Sin((hour - 9) * Math.PI / 12);
        var isLost = day is >= 22 + 8 / 24.0 and < 22 + 15 / 24.0;
        if (isLost)
        {
            yield break;
        }

        var soil = day switch { >= 2 and < 2.8 => 10, >= 4 and < 4.3 => 33.5, >= 5 and < 5.1 => 46, >= 7 and < 9 => 12, _ => 24 + 2 * sun };
        yield return Read("soil", soil, battery: day < 10 ? 60 : day < 11 ? 8 : 15, moisture: null);
        yield return Read("mist", 23 + 2 * sun, humidity: day is >= 10 and < 10.4 ? 70 : 97);
        yield return Read("high", (day is >= 18 and < 20 ? 27 : 22) + sun, humidity: day is >= 16 and < 16.5 ? 70 : 97);
        if (day is < 17 or >= 17.4)
        {
            yield return Read("pane", day is >= 13 and < 15 ? 21 : day is >= 15 and < 15.5 && (int)(day * 144) % 12 == 0 ? 40
                : 21 + 3 * sun);
        }

        yield return Read("late", 20 + sun);
        if (day < 9)
        {
            yield return Read("spare", 20 + sun);
        }

        if (day is < 4 or >= 27)
        {
            yield return Read("guest", 20 + sun);
        }
    }

    private Reading Read(string probe, double celsius, double? humidity = null, double? moisture = null, double? battery = null)
    {
        var isStill = celsius == 21;
        return new(
            new(probe), now, now, Temperature.FromCelsius(isStill ? celsius : celsius + 0.2 * weather.NextDouble()),
            humidity is { } percent ? RelativeHumidity.FromPercent(percent + weather.NextDouble()) : null, moisture, battery);
    }

    // A sensor that fails now and then from the tenth day on, and one whose clock is wrong twice a day from the sixth.
    private IEnumerable<Refusal> Refusals(int step)
    {
        if (step is >= 9 * 144 and < 12 * 144 && step % 2 == 0)
        {
            yield return new(now, "home", new("pane"), "temperature", RefusalReason.Sentinel, "85", "Check its wiring.");
        }

        if (step is >= 5 * 144 and < 20 * 144 && (step < 5 * 144 + 6 || step % 100 == 0))
        {
            yield return new(now, "home", new("soil"), "at", RefusalReason.BadTime, "1970", "Set its clock.");
        }
    }

    private void Restart()
    {
        var from = now - Duration.FromDays(14);
        watch = new(facts, [.. Ledger.Where(alert => alert.ClosedAt is not { } closed || closed >= from)], from);
        Hear(watch.Rebuild(Journaled with
        {
            Earlier = (probe, upTo) =>
                Journal(probe, now - Duration.FromDays(60)).Where(reading => reading.MeasuredAt < upTo && reading.Temperature is not null)
                .Select(reading => new TemperatureSample(reading.MeasuredAt, reading.Temperature!.Value)),
            Refusals = [.. refusals.Where(refusal => now - refusal.ReceivedAt < Duration.FromDays(1))],
            WatchedUpTo = now,
        }, now));
    }

    // As the service reads it: no further back than a fortnight, unless something that holds began before.
    private WatchPast Journaled => new((probe, since) => Journal(probe, since), now - Duration.FromDays(14))
    {
        Heard = [.. journal.Select(known => (known.Key, known.Value[^1].MeasuredAt)).OrderByDescending(known => known.MeasuredAt)],
    };

    private IEnumerable<Reading> Journal(ProbeId probe, Instant since) =>
        journal.GetValueOrDefault(probe, []).Where(reading => reading.MeasuredAt >= since);

    private void Hear(IReadOnlyList<WatchEvent> events)
    {
        foreach (var happened in events)
        {
            switch (happened)
            {
                case RefoldNeeded late:
                    Hear(watch.Refold(late, Journaled, now));
                    break;
                case AlertAmended { Alert: var alert }:
                    Keep(alert);
                    break;
                case AlertOpened { Alert: var alert }:
                    Say("opened", alert);
                    break;
                case AlertWorsened { Alert: var alert }:
                    Say("worse", alert);
                    break;
                case AlertClosed { Alert: var alert }:
                    Say("closed", alert);
                    break;
                default:
                    break;
            }
        }
    }

    private void Say(string what, Alert alert)
    {
        told.Add($"{now}: {what} {Short(alert)}");
        Keep(alert);
    }

    private void Keep(Alert alert)
    {
        var at = Ledger.FindLastIndex(alert.IsSameAs);
        if (at < 0)
        {
            Ledger.Add(alert);
        }
        else
        {
            Ledger[at] = alert;
        }
    }

    private static string Short(Alert alert) =>
        $"{alert.Severity} {alert.Kind} {alert.Subject} {alert.Since} {alert.OpenedAt} {alert.ClosedAt} {alert.CloseReason} "
        + $"{alert.Evidence.Fault}";
}

using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Plays a script on a watch, letting time pass by five minutes, and keeps the journal that a refold asks for.</summary>
internal sealed class ScriptPlayer(WatchScript script)
{
    private static readonly Duration Pace = Duration.FromMinutes(5);

    private readonly HomeWatch watch = new(script.Conditions, script.Facts);
    private readonly Dictionary<ProbeId, List<Reading>> journal = [];
    private readonly List<(Instant At, WatchEvent Event)> said = [];
    private readonly List<WatchScriptFailure> failures = [];
    private Instant now;
    private int expectations;

    public WatchScriptResult Play()
    {
        now = script.Steps.Count > 0 ? script.Steps[0].At : default;
        foreach (var step in script.Steps)
        {
            PassTo(step.At);
            Do(step);
        }

        failures.AddRange(script.Shows?.Missing(script) ?? []);
        return new(expectations, failures, watch.Alerts(), said);
    }

    private void PassTo(Instant to)
    {
        while (now + Pace < to)
        {
            now += Pace;
            Hear(watch.Step(now));
        }

        now = to;
    }

    private void Do(ScriptStep step)
    {
        switch (step)
        {
            case ReadingStep { Reading: var reading }:
                Journal(reading);
                Hear(watch.Step([reading], now));
                break;
            case RefusalStep { Refusal: var refusal }:
                Hear(watch.Step([refusal], now));
                break;
            case ExpectStep expect:
                Hear(watch.Step(script.Facts, now));
                Compare(expect);
                break;
            default:
                break;
        }
    }

    private void Journal(Reading reading)
    {
        if (!journal.TryGetValue(reading.Probe, out var readings))
        {
            journal[reading.Probe] = readings = [];
        }

        var index = readings.Count;
        while (index > 0 && readings[index - 1].MeasuredAt > reading.MeasuredAt)
        {
            index--;
        }

        readings.Insert(index, reading);
    }

    private void Hear(IReadOnlyList<WatchEvent> events)
    {
        foreach (var happened in events)
        {
            if (happened is RefoldNeeded refold)
            {
                Hear(watch.Refold(refold, (probe, from) => journal.GetValueOrDefault(probe, [])
                    .Where(reading => from is null || reading.MeasuredAt >= from), now));
            }
            else
            {
                said.Add((now, happened));
            }
        }
    }

    private void Compare(ExpectStep expect)
    {
        expectations++;
        var open = watch.Open();
        var met = open.Count == expect.Alerts.Count && expect.Alerts.All(expected => open.Any(expected.IsMetBy));
        if (!met)
        {
            failures.Add(
                new(expect.Line, $"{script.Name}:{expect.Line}: at {Local(now)} expected {Say(expect.Alerts)}, but there is {Say(open)}"));
        }
    }

    private string Local(Instant instant) => NodaTime.Text.LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm")
        .Format(instant.InZone(script.Facts.Zone).LocalDateTime);

    private string Say(IReadOnlyList<Expected> alerts) => alerts.Count == 0
        ? "nothing"
        : string.Join(", ", alerts.Select(alert => Say(alert.Kind, alert.Subject, alert.Severity, alert.Since, alert.Fault)));

    private string Say(IReadOnlyList<Alert> alerts) => alerts.Count == 0
        ? "nothing"
        : string.Join(", ", alerts.Select(alert => Say(alert.Kind, alert.Subject.Name, alert.Severity, alert.Since, alert.Evidence.Fault)));

    private string Say(AlertKind kind, string subject, Severity? severity, Instant? since, ProbeFault? fault) =>
        $"{(severity is { } known ? $"{known.ToString().ToLowerInvariant()}: " : "")}{kind.Spelled} on "
            + $"{subject}{(since is { } from ? $" since {Local(from)}" : "")}"
        + (fault is { } named and not ProbeFault.None ? $" by {Spelling.Spaced(named.ToString())}" : "");
}

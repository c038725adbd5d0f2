using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Lines that begin with a time.</summary>
internal sealed partial class ScriptParser
{
    private const string TimeForm = "day 2 08:00: soil reads 24";
    private const string SpanForm = "08:00 to 14:00 every 10 min: soil reads 24 to 30";
    private const string ReadForm = "soil reads 24, humidity 80, moisture 500, battery 40";
    private const string ExpectForm = "expect too hot on shelf, silent probe on soil   (or: expect nothing)";

    private int day = 1;
    private Instant latest = Instant.MinValue;

    private void ParseTimed()
    {
        var from = Time();
        var dayOfLine = day;
        var to = line.Take("to") ? Time() : (Instant?)null;
        day = dayOfLine;
        if (to is not { } end)
        {
            line.Need(":", TimeForm);
            Order(from);
            Do(from, null);
            return;
        }

        line.Need("every", SpanForm);
        var every = line.Duration(SpanForm);
        line.Need(":", SpanForm);
        Order(from);
        if (end <= from)
        {
            throw line.Wrong($"a span ends after it begins; write: {SpanForm}");
        }

        Do(from, (end, every));
    }

    private void Order(Instant at)
    {
        if (at < latest)
        {
            throw line.Wrong("this is earlier than the line above; lines go forward in time, and a new day is written as: day 2 08:00");
        }

        latest = at;
    }

    private Instant Time()
    {
        if (line.Take("day"))
        {
            var number = line.Quantity("day", TimeForm);
            day = number is >= 1 and <= 10_000 && number == Math.Floor(number) ? (int)number : throw line.Wrong("days are counted from 1");
        }

        var time = line.TimeOfDay() ?? throw line.Wrong($"a time of day as HH:mm is missing; write: {TimeForm}");
        return firstDay.PlusDays(day - 1).At(time).InZoneLeniently(zone).ToInstant();
    }

    private void Do(Instant at, (Instant End, Duration Every)? span)
    {
        if (span is null && DoOnce(at))
        {
            line.End("one thing a line");
            return;
        }

        var probe = Probe(line.Word("probe", ReadForm));
        if (span is null && line.Take("sends"))
        {
            Send(at, probe);
        }
        else
        {
            line.Need("reads", span is null ? ReadForm : SpanForm);
            Read(at, probe, span);
        }

        line.End(ReadForm);
    }

    private bool DoOnce(Instant at)
    {
        if (line.Take("expect"))
        {
            steps.Add(new ExpectStep(line.Number, at, line.TakeLast("nothing") ? [] : [.. Expectations()], part));
            return true;
        }

        if (line.Take("sow"))
        {
            Sow(at);
            return true;
        }

        if (line.Take("look at"))
        {
            const string form = "look at T1 , 3 up";
            var batch = Batch(form);
            line.Need(",", form);
            batch.Looks.Add(new(at, (int)line.Quantity("number up", form)));
            line.Need("up", form);
            return true;
        }

        return DoToBatch(at) || DoToHome(at);
    }

    private bool DoToBatch(Instant at)
    {
        if (line.Take("wet"))
        {
            Batch("wet T1").Wettings.Add(at);
        }
        else if (line.Take("uncover"))
        {
            Batch("uncover T1").CoverOffAt = at;
        }
        else if (line.Take("end"))
        {
            Batch("end T1").EndedAt = at;
        }
        else if (line.Take("forecast"))
        {
            Forecast(at);
        }
        else
        {
            return false;
        }

        return true;
    }

    private void Forecast(Instant at)
    {
        const string form = "forecast T1 may be up 20   (or: forecast T1 is over 4 by cold spot)";
        var batch = Batch(form);
        if (line.Take("may be up"))
        {
            batch.LookFrom = new(at, line.Quantity("percent", form) / 100);
        }
        else
        {
            line.Need("is over", form);
            batch.StopWaitingFrom = new(at, line.Quantity("percent", form) / 100) { Why = line.Take("by") ? Why() : null };
        }
    }

    private bool DoToHome(Instant at)
    {
        if (line.Take("move"))
        {
            Move(at);
        }
        else if (line.Take("calibrate"))
        {
            Calibrate(at);
        }
        else if (line.Take("survey of"))
        {
            const string form = "survey of shelf found 22";
            var spot = Spot().Id;
            line.Need("found", form);
            surveys.Add(new(spot, at, Temperature.FromCelsius(Degrees(line.Quantity("mean", form)))));
        }
        else if (line.Take("broker lost"))
        {
            outages.Add(new(new(at, null), OutageCause.Broker));
        }
        else if (line.Take("broker back"))
        {
            EndOutage(at);
        }
        else
        {
            return false;
        }

        return true;
    }

    private void EndOutage(Instant at)
    {
        if (outages.Count == 0 || outages[^1].When.HasEnd)
        {
            throw line.Wrong("the broker was not lost; write first: 08:00: broker lost");
        }

        outages[^1] = outages[^1] with { When = new(outages[^1].When.Start, at) };
    }

    private void Move(Instant at)
    {
        const string form = "move T1 to sill   (or: move soil to sill, move soil away)";
        var word = line.Word("batch or probe", form);
        if (batches.TryGetValue(word, out var batch))
        {
            line.Need("to", form);
            batch.Moves.Add((at, Spot().Id));
            return;
        }

        var probe = Probe(word);
        SpotId? spot = line.Take("away") ? null : line.Take("to") ? Spot().Id : throw line.Wrong($"where to? write: {form}");
        probe.Moves.Add((at, spot));
    }

    private void Calibrate(Instant at)
    {
        const string form = "calibrate soil by 0.4   (or: calibrate soil dry 200 saturated 800)";
        var probe = Probe(line.Word("probe", form)).Probe.Id;
        if (line.Take("by"))
        {
            var size = line.Quantity("offset", form);
            calibrations.Add(new(probe, at, TemperatureDifference.FromKelvins(fahrenheit ? size * 5 / 9 : size)));
            return;
        }

        line.Need("dry", form);
        var dry = line.Quantity("dry reading", form);
        line.Need("saturated", form);
        calibrations.Add(new(probe, at, default, dry, line.Quantity("saturated reading", form)));
    }

    private IEnumerable<Expected> Expectations()
    {
        do
        {
            Severity? severity = Enum.GetValues<Severity>().Where(known => line.Take(known.ToString().ToLowerInvariant())).Select(known => (Severity?)known).FirstOrDefault();
            var kind = Kind();
            line.Need("on", ExpectForm);
            var subject = line.Word("spot, probe or batch", ExpectForm);
            if (!spots.ContainsKey(subject) && !probes.ContainsKey(subject) && !batches.ContainsKey(subject) && subject != AlertSubject.Home.Name)
            {
                throw line.Wrong($"\"{subject}\" is no spot, probe or batch of this script, nor \"home\"");
            }

            yield return new(kind, subject, severity, line.Take("since") ? Time() : null, line.Take("by") ? Fault() : null);
        }
        while (line.Take(","));
    }

    private AlertKind Kind() =>
        Enum.GetValues<AlertKind>().Where(known => line.Take(AlertWords.Spell(known))).Select(known => (AlertKind?)known).FirstOrDefault()
            ?? throw line.Wrong($"no alert has this name; the names are {string.Join(", ", Enum.GetValues<AlertKind>().Select(AlertWords.Spell))}");

    private ProbeFault Fault() =>
        Enum.GetValues<ProbeFault>().Where(known => line.Take(Spaced(known.ToString()))).Select(known => (ProbeFault?)known).FirstOrDefault()
            ?? throw line.Wrong($"no fault has this name; the names are {string.Join(", ", Enum.GetNames<ProbeFault>().Skip(1).Select(Spaced))}");

    private CauseKind Why() =>
        CauseKinds.All.Where(known => line.Take(known.Words)).Select(known => (CauseKind?)known.Kind).FirstOrDefault()
            ?? throw line.Wrong($"no reason has this name; the names are {string.Join(", ", CauseKinds.All.Select(known => known.Words))}");

    private ScriptBatch Batch(string form)
    {
        var word = line.Word("batch", form);
        return batches.GetValueOrDefault(word) ?? throw line.Wrong($"the batch \"{word}\" is not known; sow it above: {SowForm}");
    }

    private ScriptProbe Probe(string word) =>
        probes.GetValueOrDefault(word) ?? throw line.Wrong($"the probe \"{word}\" is not known; declare it above: {ProbeForm}");
}

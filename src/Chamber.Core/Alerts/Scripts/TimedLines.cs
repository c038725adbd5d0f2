using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Lines that begin with a time, or with a span of it.</summary>
internal sealed class TimedLines(ScriptDraft draft)
{
    private const string TimeForm = "day 2 08:00: soil reads 24";
    private const string ExpectForm = "expect too hot on shelf, silent probe on soil   (or: expect nothing)";

    private readonly SowingLines sowing = new(draft);
    private readonly ReadingLines readings = new(draft);

    public void Parse(ScriptLine line)
    {
        var from = draft.Clock.Take(line);
        if (!line.Take("to"))
        {
            line.Need(":", TimeForm);
            draft.Clock.GoTo(from, line);
            Do(line, from);
            return;
        }

        var end = draft.Clock.TakeEnd(line);
        line.Need("every", ReadingLines.SpanForm);
        var every = line.Duration(ReadingLines.SpanForm);
        line.Need(":", ReadingLines.SpanForm);
        draft.Clock.GoTo(from, line);
        if (end <= from)
        {
            throw line.Wrong($"a span ends after it begins; write: {ReadingLines.SpanForm}");
        }

        readings.ParseSpan(line, from, end, every);
    }

    private void Do(ScriptLine line, Instant at)
    {
        if (DoOnce(line, at))
        {
            line.End("one thing a line");
        }
        else
        {
            readings.Parse(line, at);
        }
    }

    private bool DoOnce(ScriptLine line, Instant at)
    {
        if (line.Take("expect"))
        {
            draft.Steps.Add(new ExpectStep(line.Number, at, line.TakeLast("nothing") ? [] : [.. Expectations(line)], draft.Part));
            return true;
        }

        return sowing.Do(line, at) || DoToHome(line, at);
    }

    private bool DoToHome(ScriptLine line, Instant at)
    {
        if (line.Take("move"))
        {
            Move(line, at);
        }
        else if (line.Take("calibrate"))
        {
            Calibrate(line, at);
        }
        else if (line.Take("survey of"))
        {
            Survey(line, at);
        }
        else if (line.Take("broker lost"))
        {
            draft.Outages.Add(new(new(at, null), OutageCause.Broker));
        }
        else if (line.Take("broker back"))
        {
            EndOutage(line, at);
        }
        else
        {
            return false;
        }

        return true;
    }

    private void Survey(ScriptLine line, Instant at)
    {
        const string form = "survey of shelf found 22";
        var spot = draft.Spot(line).Id;
        line.Need("found", form);
        draft.Surveys.Add(new(spot, at, Temperature.FromCelsius(draft.Celsius(line, "mean", form, Bounds.ReadCelsius))));
    }

    private void EndOutage(ScriptLine line, Instant at)
    {
        if (draft.Outages is not [.., { When: { HasEnd: false } when } last])
        {
            throw line.Wrong("the broker was not lost; write first: 08:00: broker lost");
        }

        draft.Outages[^1] = last with { When = new(when.Start, at) };
    }

    private void Move(ScriptLine line, Instant at)
    {
        const string form = "move T1 to sill   (or: move soil to sill, move soil away)";
        var word = line.Word("batch or probe", form);
        if (draft.Batches.TryGetValue(word, out var batch))
        {
            line.Need("to", form);
            batch.Moves.Add((at, draft.Spot(line).Id));
            return;
        }

        var probe = draft.Probe(line, word);
        SpotId? spot = line.Take("away") ? null : line.Take("to") ? draft.Spot(line).Id : throw line.Wrong($"where to? write: {form}");
        probe.Moves.Add((at, spot));
    }

    private void Calibrate(ScriptLine line, Instant at)
    {
        const string form = "calibrate soil by 0.4   (or: calibrate soil dry 200 saturated 800)";
        var probe = draft.Probe(line, line.Word("probe", form)).Probe.Id;
        if (line.Take("by"))
        {
            var size = line.Quantity("offset", form);
            draft.Calibrations.Add(new(probe, at, TemperatureDifference.FromKelvins(
                line.Within(Bounds.OffsetKelvins, draft.IsFahrenheit ? size * 5 / 9 : size))));
            return;
        }

        line.Need("dry", form);
        var dry = line.Quantity("dry reading", form, Bounds.RawMoisture);
        line.Need("saturated", form);
        draft.Calibrations.Add(new(probe, at, default, dry, line.Quantity("saturated reading", form, Bounds.RawMoisture)));
    }

    private IEnumerable<Expected> Expectations(ScriptLine line)
    {
        do
        {
            Severity? severity = Enum.GetValues<Severity>().Where(known => line.Take(known.ToString().ToLowerInvariant()))
                .Select(known => (Severity?)known).FirstOrDefault();
            var kind = draft.Kind(line);
            line.Need("on", ExpectForm);
            var subject = line.Word("spot, probe or batch", ExpectForm);
            if (!draft.Spots.ContainsKey(subject) && !draft.Probes.ContainsKey(subject) && !draft.Batches.ContainsKey(subject)
                && subject != AlertSubject.Home.Name)
            {
                throw line.Wrong($"\"{subject}\" is no spot, probe or batch of this script, nor \"home\"");
            }

            yield return new(kind, subject, severity, line.Take("since") ? draft.Clock.Take(line) : null,
                line.Take("by") ? ScriptDraft.Fault(line) : null);
        }
        while (line.Take(","));
    }
}

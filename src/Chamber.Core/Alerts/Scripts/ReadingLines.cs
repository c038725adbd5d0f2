using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>What probes say in a script.</summary>
internal sealed class ReadingLines(ScriptDraft draft)
{
    public const string SpanForm = "08:00 to 14:00 every 10 min: soil reads 24 to 30";
    private const string ReadForm = "soil reads 24, humidity 80, moisture 500, battery 40";

    private const string Value = "value";

    /// <summary>A span makes at most this many readings.</summary>
    private const int SpanMax = 100_000;

    // A real probe is never quite still: every other reading of a span lies so much, K, higher, unless it "reads exactly".
    private const double Unrest = 0.01;

    public void Parse(ScriptLine line, Instant at)
    {
        var probe = draft.Probe(line, line.Word("probe", ReadForm));
        if (line.Take("sends"))
        {
            Send(line, at, probe);
        }
        else
        {
            line.Need("reads", ReadForm);
            line.Take("exactly");
            var values = Values(line);
            var measured = line.Take("as of") ? draft.Clock.Take(line) : at;
            Add(line, probe, values, new(measured, at, 0, 0));
        }

        line.End(ReadForm);
    }

    public void ParseSpan(ScriptLine line, Instant from, Instant end, Duration every)
    {
        var probe = draft.Probe(line, line.Word("probe", ReadForm));
        line.Need("reads", SpanForm);
        var isStill = line.Take("exactly");
        var values = Values(line);
        if (line.Take("as of"))
        {
            draft.Clock.Take(line);
        }

        var count = (end - from) / every;
        if (count > SpanMax)
        {
            throw line.Wrong($"a span makes at most {SpanMax} readings; use a longer step");
        }

        for (var i = 0; i <= count; i++)
        {
            var at = from + every * i;
            Add(line, probe, values, new(at, at, (at - from) / (end - from), isStill ? 0 : i % 2 * Unrest));
        }

        line.End(ReadForm);
    }

    private void Add(ScriptLine line, ScriptProbe probe, ReadValues values, in ReadAt read) =>
        draft.Steps.Add(new ReadingStep(line.Number, read.ReceivedAt, new(
        probe.Probe.Id, read.MeasuredAt, read.ReceivedAt,
        values.Temperature?.At(read.Along) is { } value ? Temperature.FromCelsius(value + read.Unrest) : null,
        values.Humidity?.At(read.Along) is { } percent ? RelativeHumidity.FromPercent(percent) : null,
        values.Moisture?.At(read.Along),
        values.Battery?.At(read.Along))));

    private ReadValues Values(ScriptLine line)
    {
        var values = new ReadValues { Temperature = line.IsNumberNext
            ? ReadRamp(line, form => draft.Celsius(line, Value, form, Bounds.ReadCelsius)) : null };
        while (!line.IsAtEnd)
        {
            line.Take(",");
            if (line.Take("humidity"))
            {
                values = values with { Humidity = ReadRamp(line, Bounds.ReadHumidity) };
            }
            else if (line.Take("moisture"))
            {
                values = values with { Moisture = ReadRamp(line, Bounds.RawMoisture) };
            }
            else if (line.Take("battery"))
            {
                values = values with { Battery = ReadRamp(line, Bounds.ReadBattery) };
            }
            else
            {
                break;
            }
        }

        return values == default ? throw line.Wrong($"there is nothing read; write: {ReadForm}") : values;
    }

    private static Ramp ReadRamp(ScriptLine line, Bound bound) => ReadRamp(line, form => line.Quantity(Value, form, bound));

    private static Ramp ReadRamp(ScriptLine line, Func<string, double> quantity)
    {
        var from = quantity(ReadForm);
        return new(from, line.Take("to") ? quantity(SpanForm) : from);
    }

    private void Send(ScriptLine line, Instant at, ScriptProbe probe)
    {
        const string form = "soil sends a sentinel";
        line.Take("a");
        line.Take("an");
        var words = line.Word("what is wrong", form);
        while (!line.IsAtEnd)
        {
            words += line.Word("what is wrong", form);
        }

        var reason = line.Choose<RefusalReason>(words, "reason");
        draft.Steps.Add(new RefusalStep(line.Number, at, new(at, "script", probe.Probe.Id, "temperature", reason, words, "")));
    }

    private readonly record struct Ramp(double From, double To)
    {
        public double At(double along) => From + (To - From) * along;
    }

    private readonly record struct ReadValues(Ramp? Temperature, Ramp? Humidity, Ramp? Moisture, Ramp? Battery);

    private readonly record struct ReadAt(Instant MeasuredAt, Instant ReceivedAt, double Along, double Unrest);
}

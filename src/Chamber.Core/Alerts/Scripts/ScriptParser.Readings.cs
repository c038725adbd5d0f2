using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>What probes say in a script.</summary>
internal sealed partial class ScriptParser
{
    /// <summary>A span makes at most this many readings.</summary>
    private const int SpanMax = 100_000;

    // A real probe is never quite still: every other reading of a span lies so much, K, higher, unless it "reads exactly".
    private const double Unrest = 0.01;

    private void Read(Instant at, ScriptProbe probe, (Instant End, Duration Every)? span)
    {
        var still = line.Take("exactly");
        var (temperature, humidity, moisture, battery) = Quantities();
        var measured = line.Take("as of") ? Time() : (Instant?)null;
        if (span is not { } stretch)
        {
            Add(measured ?? at, at, 0, 0);
            return;
        }

        var count = (stretch.End - at) / stretch.Every;
        if (count > SpanMax)
        {
            throw line.Wrong($"a span makes at most {SpanMax} readings; use a longer step");
        }

        for (var i = 0; i <= count; i++)
        {
            var when = at + stretch.Every * i;
            Add(when, when, (when - at) / (stretch.End - at), still ? 0 : i % 2 * Unrest);
        }

        latest = Instant.Max(latest, at);

        void Add(Instant measuredAt, Instant receivedAt, double along, double unrest) => steps.Add(new ReadingStep(line.Number, receivedAt, new(
            probe.Probe.Id, measuredAt, receivedAt,
            temperature?.At(along) is { } value ? Temperature.FromCelsius(Degrees(value) + unrest) : null,
            humidity?.At(along) is { } wet ? RelativeHumidity.FromPercent(wet) : null,
            moisture?.At(along),
            battery?.At(along))));
    }

    private (Ramp? Temperature, Ramp? Humidity, Ramp? Moisture, Ramp? Battery) Quantities()
    {
        Ramp? temperature = line.IsNumberNext ? ReadRamp() : null;
        Ramp? humidity = null, moisture = null, battery = null;
        while (!line.IsAtEnd)
        {
            line.Take(",");
            if (line.Take("humidity"))
            {
                humidity = ReadRamp();
            }
            else if (line.Take("moisture"))
            {
                moisture = ReadRamp();
            }
            else if (line.Take("battery"))
            {
                battery = ReadRamp();
            }
            else
            {
                break;
            }
        }

        return temperature is null && humidity is null && moisture is null && battery is null
            ? throw line.Wrong($"there is nothing read; write: {ReadForm}")
            : (temperature, humidity, moisture, battery);
    }

    private Ramp ReadRamp()
    {
        var from = line.Quantity("value", ReadForm);
        return new(from, line.Take("to") ? line.Quantity("value", SpanForm) : from);
    }

    private void Send(Instant at, ScriptProbe probe)
    {
        const string form = "soil sends a sentinel";
        line.Take("a");
        line.Take("an");
        var words = line.Word("what is wrong", form);
        while (!line.IsAtEnd)
        {
            words += line.Word("what is wrong", form);
        }

        var reason = Choose<RefusalReason>(words, "reason");
        steps.Add(new RefusalStep(line.Number, at, new(at, "script", probe.Probe.Id, "temperature", reason, words, "")));
    }

    private readonly record struct Ramp(double From, double To)
    {
        public double At(double along) => From + (To - From) * along;
    }
}

using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Records a thermometer that somebody read.</summary>
internal static class ReadVerb
{
    // Between two looks at a thermometer lie hours; half a day without one is a gap.
    private static readonly Duration HandReadGap = Duration.FromHours(12);

    public static Verb Create()
    {
        var name = new Argument<string>("where") { Description = "The spot where the thermometer hangs, or its own name." };
        var temperature = Typed.Argument("temperature", "What it says, with the unit: 80F or 26.5C.", text => (Text: text, Value: TemperatureText.Parse(text)));
        var humidity = Typed.Option<double?>("--humidity", "PERCENT", "Relative humidity, when it says that too.", ParsePercent);
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was read: 07:40, or \"2026-03-01 07:40\". Now unless told." };
        var sure = new Option<bool>("--sure") { Description = "The value is right, even if it looks like the other unit." };
        return new Verb("read", "Records a thermometer that somebody read.", "chamber read boiler-top 80F", "chamber read shelf 26.5C --humidity 45 --when 07:40") { name, temperature, humidity, when, sure }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var (text, _) = parse.GetValue(temperature);
                var at = invocation.TimeOf(parse.GetValue(when));
                if (at > invocation.Now)
                {
                    throw new BadInputException($"--when {parse.GetValue(when)} lies in the future.");
                }

                var probe = ProbeOf(invocation, parse.GetValue(name)!, out var spot, out var isNew);
                var reading = Judge(invocation, probe, at, text, parse.GetValue(humidity), parse.GetValue(sure));
                SetUp(invocation.Store, probe, spot, at, isNew);
                var result = invocation.Store.Journal.Append([reading], []);
                Answer(invocation, reading, spot, result);
            });
    }

    private static double? ParsePercent(string text) =>
        double.TryParse(text.Trim().TrimEnd('%').TrimEnd(), System.Globalization.NumberStyles.AllowDecimalPoint, System.Globalization.CultureInfo.InvariantCulture, out var percent) && percent is > 0 and <= 100
            ? percent
            : throw new FormatException($"\"{text}\" is not a relative humidity: write a percent from 1 to 100.");

    private static ProbeId ProbeOf(Invocation invocation, string name, out SpotId? spot, out bool isNew)
    {
        var places = invocation.Store.Ledger.Places;
        spot = null;
        isNew = false;
        if (Core.Identifier.IsValid(name) && places.Probe(new(name)) is { } known)
        {
            return known.Probe.Id;
        }

        var place = places.Spots().FirstOrDefault(found => string.Equals(found.Id.Text, name, StringComparison.OrdinalIgnoreCase));
        if (place is null)
        {
            isNew = true;
            return new ProbeId(name);
        }

        spot = place.Id;
        var handRead = places.Probes().Where(entry => entry.HandRead).Select(entry => entry.Probe.Id).ToHashSet();
        var here = places.Stations().FirstOrDefault(station => station.Spot == place.Id && !station.When.HasEnd && handRead.Contains(station.Probe));
        isNew = here is null;
        return here?.Probe ?? new ProbeId(Cut($"thermometer-{place.Id}"));
    }

    private static string Cut(string name) => name.Length <= Core.Identifier.LengthMax ? name : name[..Core.Identifier.LengthMax];

    private static Reading Judge(Invocation invocation, ProbeId probe, Instant at, string text, double? humidity, bool sure)
    {
        var raw = new RawReading();
        var unit = text.TrimEnd().EndsWith("F", StringComparison.OrdinalIgnoreCase) ? DeclaredUnit.Fahrenheit : DeclaredUnit.Celsius;
        var value = TemperatureText.Parse(text);
        raw.Set(unit == DeclaredUnit.Fahrenheit ? value.Fahrenheit : value.Celsius, unit);
        if (humidity is { } percent)
        {
            raw.Set(percent, DeclaredUnit.HumidityPercent);
        }

        var previous = invocation.Store.Journal.Latest(probe)?.Temperature is { } last ? new TemperatureSample(last.At, last.Value) : (TemperatureSample?)null;
        var refusals = new List<Refusal>();
        var millisecond = Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());
        var reading = raw.Screen(new(probe, millisecond, invocation.Now, ClockSource.Payload, "read", previous, sure), refusals);
        return refusals is [var first, ..]
            ? throw new BadInputException(first.Reason == RefusalReason.OtherUnit
                ? $"{text} looks like {(unit == DeclaredUnit.Celsius ? "°F" : "°C")}: write the unit that the thermometer shows, or add --sure."
                : $"{first.Raw} is not a value that a thermometer in a home shows: look again.")
            : reading;
    }

    private static void SetUp(ChamberStore store, ProbeId probe, SpotId? spot, Instant at, bool isNew)
    {
        if (!isNew)
        {
            return;
        }

        store.Ledger.Places.Save(new ProbeEntry(new(probe, Measurand.Air, HandReadGap), HandRead: true));
        if (spot is { } place)
        {
            store.Ledger.Places.Put(probe, place, at);
        }
    }

    private static void Answer(Invocation invocation, Reading reading, SpotId? spot, AppendResult result)
    {
        var answer = new { reading.Probe, Spot = spot, At = reading.MeasuredAt, reading.Temperature, reading.Humidity, IsNew = result.Inserted + result.Filled > 0 };
        invocation.Answer(answer, screen =>
        {
            screen.Headline($"{screen.Show(reading.Temperature!.Value)} on {spot?.Text ?? reading.Probe.Text} at {invocation.Show(reading.MeasuredAt)} {(answer.IsNew ? "is written down." : "was written down already.")}");
            if (!invocation.Store.Ledger.Places.Stations().Any(station => station.Probe == reading.Probe))
            {
                screen.Say($"{reading.Probe} does not stand on a spot yet: chamber probe move {reading.Probe} SPOT");
            }
        });
    }
}

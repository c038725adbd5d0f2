using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Import;

/// <summary>A recorded or planned temperature: a file with columns <c>at,temperature</c>, RFC 3339 and °C.</summary>
internal static class TraceFile
{
    private static readonly ProbeId Nobody = new("trace");

    // No seed stands in more than this, and in °F it is a mild day: 15 to 40 °C.
    private const double FahrenheitFrom = 59;
    private const double FahrenheitTo = 104;

    /// <summary>The temperatures that can be used, in the order of the file, and those that cannot: a sensor's codes and empty
    /// fields.</summary>
    /// <exception cref="BadInputException">The file cannot be read, a line is not in this form, or all of it looks like °F; the message
    /// names the line.</exception>
    public static (IReadOnlyList<TemperatureSample> Samples, IReadOnlyList<Refusal> Refused) Read(string path)
    {
        var samples = new List<TemperatureSample>();
        var refused = new List<Refusal>();

        // A planned temperature may lie in the future, and the form itself says that it is in °C.
        var context = new LoggerContext(DateTimeZone.Utc, Instant.FromUtc(9000, 1, 1, 0, 0), Nobody, UnitConfirmed: true);
        using var file = LoggerFile.Open(path, new() { IsTrace = true }, context);
        foreach (var line in file.Lines())
        {
            foreach (var refusal in line.Refusals)
            {
                Require(refusal, path, line.Number);
                refused.Add(refusal);
            }

            if (line.Reading is { Temperature: { } temperature } reading)
            {
                samples.Add(new(reading.MeasuredAt, temperature));
            }
        }

        RequireCelsius(samples, path);
        return samples.Count > 0 ? (samples, refused) : throw new BadInputException($"{path} holds no temperature that can be used.");
    }

    private static void Require(Refusal refusal, string path, long line)
    {
        if (refusal.Reason is RefusalReason.Malformed or RefusalReason.BadTime or RefusalReason.FutureTime)
        {
            throw new BadInputException($"{path} line {line}: {refusal.Quantity ?? "line"} \"{refusal.Raw}\". {refusal.Fix}");
        }
    }

    private static void RequireCelsius(List<TemperatureSample> samples, string path)
    {
        if (samples.Count > 0 && samples.TrueForAll(sample => sample.Temperature.Celsius is >= FahrenheitFrom and <= FahrenheitTo))
        {
            throw new BadInputException(
                $"{path} holds {samples[0].Temperature.Celsius:0.#} and the like throughout, which looks like °F: a trace is in °C.");
        }
    }
}

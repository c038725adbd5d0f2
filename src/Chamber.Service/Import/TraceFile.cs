using Chamber.Core.Climate;
using Chamber.Service.Commands;
using NodaTime;

namespace Chamber.Service.Import;

/// <summary>A recorded or planned temperature: a file with columns <c>at,temperature</c>, RFC 3339 and °C.</summary>
internal static class TraceFile
{
    private static readonly ProbeId Nobody = new("trace");

    /// <summary>The temperatures that can be used, in the order of the file, and those that cannot.</summary>
    /// <exception cref="BadInputException">The file cannot be read, or a line is not in this form; the message names the line.</exception>
    public static (IReadOnlyList<TemperatureSample> Samples, IReadOnlyList<Refusal> Refused) Read(string path)
    {
        var samples = new List<TemperatureSample>();
        var refused = new List<Refusal>();

        // A planned temperature may lie in the future.
        using var file = LoggerFile.Open(path, new(), new(DateTimeZone.Utc, Instant.FromUtc(9000, 1, 1, 0, 0), Nobody, UnitConfirmed: false));
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

        return samples.Count > 0 ? (samples, refused) : throw new BadInputException($"{path} holds no temperature that can be used.");
    }

    private static void Require(Refusal refusal, string path, long line)
    {
        if (refusal.Reason is RefusalReason.Malformed or RefusalReason.BadTime)
        {
            throw new BadInputException($"{path} line {line}: {refusal.Quantity ?? "line"} \"{refusal.Raw}\". {refusal.Mend}");
        }
    }
}

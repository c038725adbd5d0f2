using Chamber.Storage.Hot;

namespace Chamber.Storage.Readings;

/// <summary>
/// Readings of one probe that are close together in time and in value, as what stands for them once they are rolled up:
/// a level stretch from the first to the last at their mean over time, which keeps the integral of the temperature between them.
/// </summary>
internal sealed class Stretch
{
    /// <summary>A stretch lies within one quarter of an hour, or within one twelfth.</summary>
    public const long LengthMax = 15 * 60_000;

    /// <summary>The shorter sort, tried where a quarter of an hour is not level enough; also the longest step between the points that are
    /// read back.</summary>
    public const long StepMax = 5 * 60_000;

    /// <summary>The most that the temperature may differ within a stretch, K. Bounds the error: see docs/storage.md.</summary>
    public const double KelvinsMax = 1;

    /// <summary>The most that humidity may differ within a stretch, % relative humidity.</summary>
    public const double HumidityMax = 5;

    /// <summary>Fewer readings than these are not worth rolling up.</summary>
    public const int CountMin = 4;

    private readonly long first;
    private readonly long last;
    private readonly int count;
    private readonly Mean temperature;
    private readonly Mean humidity;
    private readonly Mean moisture;
    private readonly Mean battery;

    public Stretch(ReadOnlySpan<StoredRow> rows)
    {
        (first, last, count) = (rows[0].At, rows[^1].At, rows.Length);
        temperature = Mean.Of(rows, row => row.Temperature);
        humidity = Mean.Of(rows, row => row.Humidity);
        moisture = Mean.Of(rows, row => row.Moisture);
        battery = Mean.Of(rows, row => row.Battery);
    }

    public long First => first;

    public long Last => last;

    public int Count => count;

    /// <summary>Whether a level line says nearly the same.</summary>
    public bool IsLevel => count >= CountMin && temperature.Range <= KelvinsMax && humidity.Range <= HumidityMax;

    /// <summary>probe, at, span, count, temperature, low, high, humidity, moisture, battery.</summary>
    public void Bind(Statement insert, long probe)
    {
        insert.Bind(1, probe);
        insert.Bind(2, first);
        insert.Bind(3, last - first);
        insert.Bind(4, (long)count);
        insert.Bind(5, temperature.Value);
        insert.Bind(6, temperature.Low);
        insert.Bind(7, temperature.High);
        insert.Bind(8, humidity.Value);
        insert.Bind(9, moisture.Value);
        insert.Bind(10, battery.Value);
    }

    /// <summary>The mean over time by straight lines, with the extremes; of a single value, that value.</summary>
    private readonly record struct Mean(double? Value, double? Low, double? High)
    {
        public double Range => High - Low ?? 0;

        public static Mean Of(ReadOnlySpan<StoredRow> rows, Func<StoredRow, double?> quantity)
        {
            (long At, double Value)? before = null;
            var (area, time, low, high) = (0.0, 0L, double.PositiveInfinity, double.NegativeInfinity);
            foreach (var row in rows)
            {
                if (quantity(row) is not { } value)
                {
                    continue;
                }

                if (before is { } last)
                {
                    area += (last.Value + value) / 2 * (row.At - last.At);
                    time += row.At - last.At;
                }

                before = (row.At, value);
                (low, high) = (Math.Min(low, value), Math.Max(high, value));
            }

            return before is { } only ? new(time == 0 ? only.Value : Math.Clamp(area / time, low, high), low, high) : default;
        }
    }
}

/// <summary>A row of the table of readings, as far as it is rolled up.</summary>
internal readonly record struct StoredRow(long At, double? Temperature, double? Humidity, double? Moisture, double? Battery);

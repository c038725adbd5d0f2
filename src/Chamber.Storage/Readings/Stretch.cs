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

    public Stretch(ReadOnlySpan<StoredRow> rows)
    {
        (First, Last, Count) = (rows[0].At, rows[^1].At, rows.Length);
        Temperature = Mean.Of(rows, row => row.Temperature);
        Humidity = Mean.Of(rows, row => row.Humidity);
        Moisture = Mean.Of(rows, row => row.Moisture);
        Battery = Mean.Of(rows, row => row.Battery);
    }

    public long First { get; }

    public long Last { get; }

    public int Count { get; }

    public Mean Temperature { get; }

    public Mean Humidity { get; }

    public Mean Moisture { get; }

    public Mean Battery { get; }

    /// <summary>Whether a level line says nearly the same.</summary>
    public bool IsLevel => Count >= CountMin && Temperature.Range <= KelvinsMax && Humidity.Range <= HumidityMax;

    /// <summary>The quarter of an hour that a time lies in, or another such length.</summary>
    public static long Slot(long at, long length) => Math.DivRem(at, length) is var (slot, rest) && rest < 0 ? slot - 1 : slot;

    /// <summary>The points that a stretch of so many ms is read back as, in ms after its beginning: close enough for a short gap.</summary>
    public static IEnumerable<long> Points(long span)
    {
        var steps = (span + StepMax - 1) / StepMax;
        return steps == 0 ? [0] : Enumerable.Range(0, (int)steps + 1).Select(point => span * point / steps);
    }

    /// <summary>The stretches that stand for readings of one quarter of an hour: one for all of them, or one for each twelfth of an hour
    /// that is level.</summary>
    /// <param name="quarter">All of them, in order of time.</param>
    public static IEnumerable<Stretch> In(ReadOnlySpan<StoredRow> quarter)
    {
        if (quarter.Length < CountMin)
        {
            return [];
        }

        var whole = new Stretch(quarter);
        return whole.IsLevel ? [whole] : Twelfths(quarter);
    }

    private static List<Stretch> Twelfths(ReadOnlySpan<StoredRow> rows)
    {
        var (level, start) = (new List<Stretch>(), 0);
        for (var i = 1; i <= rows.Length; i++)
        {
            if (i == rows.Length || Slot(rows[i].At, StepMax) != Slot(rows[start].At, StepMax))
            {
                var twelfth = new Stretch(rows[start..i]);
                level.AddRange(twelfth.IsLevel ? [twelfth] : []);
                start = i;
            }
        }

        return level;
    }

    /// <summary>The mean over time by straight lines, with the extremes; of a single value, that value.</summary>
    public readonly record struct Mean(double? Value, double? Low, double? High)
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

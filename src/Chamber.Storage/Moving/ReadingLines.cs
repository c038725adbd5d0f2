using System.Globalization;
using System.Text;
using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Storage.Facts;
using CsvHelper;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Storage.Moving;

/// <summary>
/// Readings as lines of CSV with all that is known of them, digit for digit: in the folder of a home that moves, and on their way from a
/// home to its club.
/// </summary>
public static class ReadingLines
{
    internal static readonly string[] Columns = ["probe", "at", "received", "clock", "temperature", "humidity", "moisture", "battery"];

    /// <summary>The lines without their header, UTF-8.</summary>
    public static byte[] Write(IEnumerable<Reading> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using (var csv = Writer(text))
        {
            foreach (var reading in readings)
            {
                csv.WriteRecord(Cells(reading));
            }
        }

        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>Reads such lines.</summary>
    /// <exception cref="FormatException">A line is none; the message names it.</exception>
    public static IReadOnlyList<Reading> Read(ReadOnlyMemory<byte> lines)
    {
        using var text = new StringReader(Encoding.UTF8.GetString(lines.Span));
        using var reader = CsvReader.Create(text, new CsvReaderOptions { HasHeader = false, TrackLineNumbers = true });
        var readings = new List<Reading>();
        try
        {
            while (reader.Read())
            {
                readings.Add(ReadingOf(Cells(reader), probe => probe));
            }
        }
        catch (Exception problem) when (IsFault(problem))
        {
            throw new FormatException(FormattableString.Invariant($"line {readings.Count + 1}: {problem.Message}"), problem);
        }

        return readings;
    }

    internal static CsvWriter Writer(TextWriter text) => CsvWriter.Create(text, new CsvWriterOptions(), true);

    internal static string[] Cells(CsvReader reader) =>
        [.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.GetString(i) ?? "")];

    internal static string[] Cells(in Reading reading) =>
    [
        reading.Probe.Text, Time(reading.MeasuredAt), Time(reading.ReceivedAt), Word.Of(reading.Clock),
        Digits(reading.Temperature?.Celsius), Digits(reading.Humidity?.Percent), Digits(reading.Moisture), Digits(reading.Battery),
    ];

    internal static Reading ReadingOf(string[] cells, Func<ProbeId, ProbeId> nameOf) => new(
        nameOf(new(cells[0])), Time(cells[1]), Time(cells[2]),
        Number(cells[4], Bounds.Celsius) is { } celsius ? Temperature.FromCelsius(celsius) : null,
        Number(cells[5]) is { } percent ? RelativeHumidity.FromPercent(percent) : null,
        Number(cells[6], Bounds.RawMoisture), Number(cells[7], Bounds.ReadBattery), Word.Read<ClockSource>(cells[3]));

    /// <summary>Whether that is what a line throws that cannot be read.</summary>
    internal static bool IsFault(Exception problem) => problem is FormatException or ArgumentException or OverflowException
        or UnparsableValueException or IndexOutOfRangeException;

    internal static Instant Time(string text) => InstantPattern.ExtendedIso.Parse(text).Value;

    internal static string Time(Instant at) => InstantPattern.ExtendedIso.Format(at);

    private static string Digits(double? value) => value?.ToString("R", CultureInfo.InvariantCulture) ?? "";

    private static double? Number(string cell, Bound? bound = null) => cell.Length == 0 ? null
        : double.Parse(cell, CultureInfo.InvariantCulture) is var number && bound is null ? number : bound!.Require(number);
}

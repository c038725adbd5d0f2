using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Storage;
using CsvHelper;
using NodaTime.Text;

namespace Chamber.Service.Export;

/// <summary>
/// Every reading as CSV (RFC 4180), probe after probe in order of time, a row at a time so that years fit; <c>import</c> reads it back.
/// Temperatures in °C and moisture in the probe's own scale, both before any calibration; humidity and battery in %.
/// </summary>
internal static class ReadingsFile
{
    /// <param name="path">Where to.</param>
    /// <param name="journal">What is written.</param>
    /// <param name="report">Is told how much is done, 0 to 1.</param>
    /// <param name="cancel">Ends it; the file of before stays.</param>
    public static void Write(string path, Journal journal, Action<double> report, CancellationToken cancel)
    {
        // A file of this name is either whole or the one before.
        var unfinished = path + ".part";
        using (var text = new StreamWriter(unfinished))
        using (var csv = CsvWriter.Create(text, new CsvWriterOptions(), true))
        {
            csv.WriteHeader(["probe", "at", "temperature", "humidity", "moisture", "battery"]);
            var probes = journal.Probes();
            for (var i = 0; i < probes.Count; i++)
            {
                Write(csv, journal.Read(probes[i], new(null, null)), cancel);
                report((i + 1) / (double)probes.Count);
            }
        }

        File.Move(unfinished, path, overwrite: true);
    }

    private static void Write(CsvWriter csv, IEnumerable<Reading> readings, CancellationToken cancel)
    {
        foreach (var reading in readings)
        {
            cancel.ThrowIfCancellationRequested();
            csv.WriteRecord(
            [
                reading.Probe.Text, InstantPattern.ExtendedIso.Format(reading.MeasuredAt),
                Cell(reading.Temperature?.Celsius), Cell(reading.Humidity?.Percent), Cell(reading.Moisture), Cell(reading.Battery),
            ]);
        }
    }

    private static string Cell(double? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? string.Empty;
}

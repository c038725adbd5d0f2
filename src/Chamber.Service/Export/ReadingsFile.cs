using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Service.Commands;
using Chamber.Storage;
using CsvHelper;
using NodaTime.Text;
using Spectre.Console;

namespace Chamber.Service.Export;

/// <summary>
/// Every reading as CSV (RFC 4180), probe after probe in order of time, a row at a time so that years fit; <c>import</c> reads it back.
/// Temperatures in °C and moisture in the probe's own scale, both before any calibration; humidity and battery in %.
/// </summary>
internal static class ReadingsFile
{
    public static void Write(string path, Journal journal, Screen screen, CancellationToken cancel)
    {
        // A file of this name is either whole or the one before.
        var unfinished = path + ".part";
        using (var text = new StreamWriter(unfinished))
        using (var csv = CsvWriter.Create(text, new CsvWriterOptions(), true))
        {
            csv.WriteHeader(["probe", "at", "temperature", "humidity", "moisture", "battery"]);
            var probes = journal.Probes();
            if (screen.Console.Profile.Capabilities.Interactive)
            {
                screen.Console.Progress().Start(context =>
                {
                    var task = context.AddTask("Readings", maxValue: probes.Count);
                    Write(csv, journal, probes, () => task.Increment(1), cancel);
                });
            }
            else
            {
                Write(csv, journal, probes, static () => { }, cancel);
            }
        }

        File.Move(unfinished, path, overwrite: true);
    }

    private static void Write(CsvWriter csv, Journal journal, IReadOnlyList<ProbeId> probes, Action done, CancellationToken cancel)
    {
        foreach (var probe in probes)
        {
            foreach (var reading in journal.Read(probe, new(null, null)))
            {
                cancel.ThrowIfCancellationRequested();
                csv.WriteRecord(
                [
                    probe.Text, InstantPattern.ExtendedIso.Format(reading.MeasuredAt),
                    Cell(reading.Temperature?.Celsius), Cell(reading.Humidity?.Percent), Cell(reading.Moisture), Cell(reading.Battery),
                ]);
            }

            done();
        }
    }

    private static string Cell(double? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? string.Empty;
}

using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Every probe: what it said last and where it stands; those heard but not placed; what was refused.</summary>
internal static class ProbesVerb
{
    public static Verb Create() => new Verb("probes", "Every probe: what it said last, where it stands, and what was refused of it.", "chamber probes", "chamber probes --json")
        .Does(invocation =>
        {
            var answers = Read(invocation.Home);
            invocation.Answer(answers, screen => Show(screen, invocation, answers));
        });

    public static List<ProbeAnswer> Read(HomeReader home)
    {
        var store = home.Store;
        var known = store.Ledger.Places.Probes().ToDictionary(entry => entry.Probe.Id);
        var standing = store.Ledger.Places.Stations().Where(station => !station.When.HasEnd).ToDictionary(station => station.Probe, station => station.Spot);
        var latest = store.Journal.Latest().ToDictionary(reading => reading.Probe);
        var refused = store.Journal.RefusalCounts().Where(count => count.Probe is not null).ToLookup(count => count.Probe!.Value);
        var calibrations = new HomeCalibrations(store);
        return [.. known.Keys.Concat(store.Journal.Probes()).Distinct().OrderBy(probe => probe.Text, StringComparer.Ordinal).Select(probe => new ProbeAnswer(
            probe,
            known.GetValueOrDefault(probe)?.Probe.Measurand,
            known.GetValueOrDefault(probe)?.HandRead ?? false,
            standing.TryGetValue(probe, out var spot) ? spot : null,
            latest.GetValueOrDefault(probe)?.MeasuredAt,
            latest.GetValueOrDefault(probe)?.Temperature?.Value,
            latest.GetValueOrDefault(probe)?.Humidity?.Value,
            latest.GetValueOrDefault(probe)?.Battery?.Value,
            refused[probe].Sum(count => count.Count))
        {
            Corrected = latest.GetValueOrDefault(probe)?.Temperature is { } last ? calibrations.Corrected(probe, last.At, last.Value) : null,
            Calibration = calibrations.At(probe, Instant.MaxValue) is { } calibration ? CalibrationAnswer.Of(calibration) : null,
        })];
    }

    private static void Show(Screen screen, Invocation invocation, List<ProbeAnswer> answers)
    {
        if (answers.Count == 0)
        {
            screen.Headline("No probe has spoken yet.");
            screen.Say("Send to chamber/NAME/reading over MQTT, import a file (chamber import), or read a thermometer (chamber read shelf 22.5C).");
            return;
        }

        screen.Table(
            ["Probe", "Spot", "Measures", $">Last {screen.Scale.Unit()}", ">Added", ">RH %", ">Battery %", "When", ">Refused"],
            answers.Select(probe => new[]
            {
                probe.Probe.Text,
                probe.Spot?.Text ?? "(not placed)",
                probe.Measures is { } measures ? Choice.Words(measures) + (probe.HandRead ? ", by hand" : string.Empty) : "(not said)",
                probe.Corrected is { } temperature ? screen.Scale.Number(temperature) : "-",
                probe.Calibration is { } calibration ? screen.Scale.ShowSmall(TemperatureDifference.FromKelvins(calibration.OffsetKelvins)) : "-",
                probe.Humidity is { } humidity ? PlainText.Number(humidity.Percent, 0) : "-",
                probe.Battery is { } battery ? PlainText.Number(battery, 0) : "-",
                probe.At is { } at ? $"{DurationText.Show(invocation.Now - at)} ago" : "never",
                probe.Refused.ToString(System.Globalization.CultureInfo.InvariantCulture),
            }));
        foreach (var heard in answers.Where(probe => probe.Spot is null && probe.At is not null))
        {
            screen.Say();
            screen.Say($"{heard.Probe} was heard but not placed: chamber probe move {heard.Probe} SPOT");
        }
    }
}

/// <summary>A probe for programs.</summary>
internal sealed record ProbeAnswer(
    ProbeId Probe,
    Measurand? Measures,
    bool HandRead,
    SpotId? Spot,
    Instant? At,
    Temperature? Temperature,
    RelativeHumidity? Humidity,
    double? Battery,
    long Refused)
{
    /// <summary>The temperature with the probe's offset added; <see cref="Temperature"/> is as it was read.</summary>
    public Temperature? Corrected { get; init; }

    /// <summary>What is added to its readings now; null when nothing is.</summary>
    public CalibrationAnswer? Calibration { get; init; }
}

/// <summary>A calibration for programs.</summary>
internal sealed record CalibrationAnswer(ProbeId Probe, Instant From, double OffsetKelvins, double? UncertaintyKelvins, double? HumidityPoints, double? DryRaw, double? SaturatedRaw, string? Note)
{
    public static CalibrationAnswer Of(Storage.Calibration calibration) => new(
        calibration.Probe, calibration.From, calibration.Offset.Kelvins, calibration.Uncertainty?.Kelvins, calibration.HumidityPoints, calibration.DryRaw, calibration.SaturatedRaw, calibration.Note);
}

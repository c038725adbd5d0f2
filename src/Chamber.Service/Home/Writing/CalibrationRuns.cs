using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>How the error of a probe is found.</summary>
internal enum CalibrationWay
{
    /// <summary>A night in one closed box with a probe that is trusted.</summary>
    SideBySide,

    /// <summary>In ice water, which is at 0 °C. Only for a probe that is made to be under water.</summary>
    IceWater,

    /// <summary>Humidity, in a closed jar over a wet slurry of table salt.</summary>
    TableSalt,

    /// <summary>The raw moisture in dry mix.</summary>
    DryMix,

    /// <summary>The raw moisture in soaked mix.</summary>
    SoakedMix,
}

/// <summary>What a calibration of a probe came to.</summary>
/// <param name="Kept">Everything that counts for the probe from then on.</param>
/// <param name="Values">How many values the offset rests on; 0 where no offset was found.</param>
/// <param name="HumidityUncertainty">Of the humidity, percentage points; 0 where that was not tried.</param>
internal sealed record CalibrationResult(Calibration Kept, int Values = 0, double HumidityUncertainty = 0);

/// <summary>Finds out by how much a probe is wrong and writes it down: one place for the command line and the API. Raw readings are never
/// changed.</summary>
/// <remarks>Every method throws <see cref="BadInputException"/>, and then nothing was written.</remarks>
internal sealed class CalibrationRuns(HomeReader home, Instant now)
{
    /// <summary>How long such a calibration takes by default.</summary>
    public static Duration UsualLength(CalibrationWay way) => way switch
    {
        CalibrationWay.SideBySide => Duration.FromHours(14),
        CalibrationWay.IceWater => Duration.FromMinutes(20),
        CalibrationWay.TableSalt => Duration.FromHours(2),
        _ => Duration.FromMinutes(30),
    };

    /// <summary>A probe that has spoken or was set up.</summary>
    public ProbeId Known(string name)
    {
        var all = home.Ledger.Readings.Probes.Concat(home.Ledger.Probes.Select(entry => entry.Probe.Id)).Distinct().ToList();
        return all.Where(known => known.Text == name).Select(known => (ProbeId?)known).FirstOrDefault()
            ?? throw (all.Count == 0 ? BadInputException.Unknown("No probe has spoken yet.")
                : BadInputException.NoSuch("probe", name, [.. all.Select(known => known.Text).Order(StringComparer.Ordinal)]));
    }

    /// <summary>A night beside a probe that is trusted, with what is known of that one's own error.</summary>
    public CalibrationResult SideBySide(ProbeId probe, ProbeId trusted, Interval when, Instant since)
    {
        if (trusted == probe)
        {
            throw BadInputException.In("against", $"{probe} cannot be compared with itself: name another probe to trust.");
        }

        var calibrations = new HomeCalibrations(home.Ledger);
        var answer = OffsetCalibration.SideBySide(
            Hours(probe, when, sample => sample),
            Hours(trusted, when, sample => sample with { Temperature = calibrations.Corrected(trusted, sample.At, sample.Temperature) }));
        return Keep(probe, since, answer, $"side by side with {trusted}");
    }

    public CalibrationResult IceWater(ProbeId probe, Interval when, Instant since) =>
        Keep(probe, since, OffsetCalibration.IceWater([.. home.Ledger.Readings.Temperatures(probe, when)]), "ice water");

    public CalibrationResult TableSalt(ProbeId probe, Interval when, Instant since)
    {
        var readings = home.Ledger.Readings.Whole(probe, when).ToList();
        var calibrations = new HomeCalibrations(home.Ledger);
        var celsius = readings.Where(reading => reading.Temperature is not null)
            .Select(reading => calibrations.Corrected(probe, reading.MeasuredAt, reading.Temperature!.Value).Celsius)
            .DefaultIfEmpty(20).Average();
        var answer = SaltTest.Judge(readings, Temperature.FromCelsius(celsius));
        var points = answer.Points ?? throw BadInputException.Contradicts(answer.Refusal);
        return new(Keep(probe, since, calibration => calibration with { HumidityPoints = points, Note = "over table salt" }),
            HumidityUncertainty: answer.Uncertainty);
    }

    /// <param name="probe">Which probe.</param>
    /// <param name="isDry">Dry mix, or soaked.</param>
    /// <param name="raw">The raw value; null for the median of the time of the calibration.</param>
    /// <param name="when">The time of the calibration.</param>
    /// <param name="since">From when on it counts.</param>
    public CalibrationResult Moisture(ProbeId probe, bool isDry, double? raw, Interval when, Instant since)
    {
        var answer = raw is { } number ? new MoistureAnswer(BadInputException.In("raw", () => Core.Bounds.RawMoisture.Require(number)), 0,
            "") : MoistureCalibration.Point(
                [.. home.Ledger.Readings.Whole(probe, when).Select(reading => reading.Moisture).OfType<double>()]);
        var value = answer.Raw ?? throw BadInputException.Contradicts(answer.Refusal);
        return new(Keep(probe, since, calibration => isDry ? calibration with { DryRaw = value }
            : calibration with { SaturatedRaw = value }, answer.Spread));
    }

    /// <summary>Undoes a probe's latest calibration.</summary>
    public Calibration Undo(ProbeId probe)
    {
        var last = new HomeCalibrations(home.Ledger).Of(probe).LastOrDefault()
            ?? throw BadInputException.Contradicts($"{probe} is not calibrated yet.");
        home.Writing(now).SetUp.Remove(last);
        return last;
    }

    private IReadOnlyList<HourlyMean> Hours(ProbeId probe, Interval when, Func<TemperatureSample, TemperatureSample> correct)
    {
        var gap = home.Ledger.Probe(probe)?.Probe.MaxGap ?? Probe.DefaultMaxGap;
        return HourlyMeans.Of(TemperatureTrace.Of(home.Ledger.Readings.Temperatures(probe, when).Select(correct), gap), home.Zone);
    }

    private CalibrationResult Keep(ProbeId probe, Instant since, OffsetAnswer answer, string how)
    {
        var found = answer.Found ?? throw BadInputException.Contradicts(answer.Refusal);
        return new(Keep(probe, since,
            calibration => calibration with { Offset = found.Offset, Uncertainty = found.Uncertainty, Note = how }), found.Values);
    }

    // What was known of the probe before goes on to count.
    private Calibration Keep(ProbeId probe, Instant since, Func<Calibration, Calibration> change, double spread = 0)
    {
        var kept = change(new HomeCalibrations(home.Ledger).At(probe, since) is { } before ? before with { From = since, Note = null }
            : new Calibration(probe, since, default));
        if (kept is { DryRaw: { } dry, SaturatedRaw: { } saturated } && MoistureCalibration.Fault(dry, saturated, spread) is { } fault)
        {
            throw BadInputException.Contradicts(fault);
        }

        home.Writing(now).SetUp.Save(kept);
        return kept;
    }
}

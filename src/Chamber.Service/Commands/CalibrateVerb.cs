using System.CommandLine;
using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Service.Home;
using Chamber.Service.Output;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Finds out by how much a probe is wrong, and writes it down with its date.</summary>
internal static class CalibrateVerb
{
    private static readonly Duration Night = Duration.FromHours(14);
    private static readonly Duration InIce = Duration.FromMinutes(20);
    private static readonly Duration InJar = Duration.FromHours(2);
    private static readonly Duration InMix = Duration.FromMinutes(30);

    public static Verb Create() => new("calibrate", "Finds out by how much a probe is wrong: side by side, in ice water, over salt, in dry and soaked mix.", "chamber calibrate offset shelf-1 --against kitchen")
    {
        Offset(), Ice(), Salt(), Moisture("dry"), Moisture("saturated"), List(), Undo(),
    };

    private static Verb Offset()
    {
        var trial = new TrialOptions();
        var against = new Option<string>("--against") { HelpName = "PROBE", Description = "The probe to trust.", Required = true };
        return trial.On(new Verb("offset", "From a night side by side with a probe that you trust, both in one closed box.", "chamber calibrate offset shelf-1 --against kitchen", "chamber calibrate offset shelf-1 --against kitchen --from \"2027-02-01 21:00\" --to \"2027-02-02 07:00\"") { against })
            .Does(invocation =>
            {
                var (probe, when) = trial.Read(invocation, Night);
                var trusted = TrialOptions.Known(invocation, invocation.Parse.GetValue(against)!);
                if (trusted == probe)
                {
                    throw new BadInputException($"{probe} cannot be its own measure: name another probe with --against.");
                }

                var calibrations = new HomeCalibrations(invocation.Store);
                var answer = OffsetTrial.SideBySide(
                    Hours(invocation, probe, when, sample => sample),
                    Hours(invocation, trusted, when, sample => sample with { Temperature = calibrations.Corrected(trusted, sample.At, sample.Temperature) }));
                Keep(invocation, trial, probe, answer, $"side by side with {trusted}");
            });
    }

    private static Verb Ice()
    {
        var trial = new TrialOptions();
        return trial.On(new Verb("ice", "From the last 20 minutes in ice water, which is at 0 °C (32 °F).", "chamber calibrate ice soil-1"))
            .Does(invocation =>
            {
                var (probe, when) = trial.Read(invocation, InIce);
                if (!invocation.Json)
                {
                    invocation.Screen.Warn("Caution: only a probe that is made to be under water, on battery or unplugged from the mains; never one in an open case. If in doubt, do it side by side instead.");
                }

                Keep(invocation, trial, probe, OffsetTrial.IceWater([.. invocation.Store.Journal.ReadTemperatures(probe, when)]), "ice water");
            });
    }

    private static Verb Salt()
    {
        var trial = new TrialOptions();
        return trial.On(new Verb("salt", "Humidity, from the last 2 hours in a closed jar over a wet slurry of table salt, where it is 75 %.", "chamber calibrate salt box-air"))
            .Does(invocation =>
            {
                var (probe, when) = trial.Read(invocation, InJar);
                var readings = invocation.Store.Journal.Read(probe, when).ToList();
                var calibrations = new HomeCalibrations(invocation.Store);
                var celsius = readings.Where(reading => reading.Temperature is not null).Select(reading => calibrations.Corrected(probe, reading.MeasuredAt, reading.Temperature!.Value).Celsius).DefaultIfEmpty(20).Average();
                var answer = SaltTest.Judge(readings, Temperature.FromCelsius(celsius));
                var points = answer.Points ?? throw new BadInputException(answer.Refusal);
                var kept = trial.Keep(invocation, probe, calibration => calibration with { HumidityPoints = points, Note = "over table salt" });
                invocation.Answer(new { Probe = probe, HumidityPoints = points, answer.Uncertainty, kept.From }, screen => screen.Headline(
                    string.Create(CultureInfo.InvariantCulture, $"{points:+0.0;-0.0} points are added to the humidity of {probe} (±{answer.Uncertainty:0.0}), from {invocation.Show(kept.From)} on.")));
            });
    }

    private static Verb Moisture(string point)
    {
        var trial = new TrialOptions();
        var typed = new Option<double?>("--raw") { HelpName = "NUMBER", Description = "The raw value; the median of the last half hour unless told." };
        return trial.On(new Verb(point, point == "dry" ? "The raw moisture in dry mix: the lower end of its scale." : "The raw moisture in soaked mix: the upper end of its scale.", $"chamber calibrate {point} soil-1", $"chamber calibrate {point} soil-1 --raw 812") { typed })
            .Does(invocation =>
            {
                var (probe, when) = trial.Read(invocation, InMix);
                var raw = invocation.Parse.GetValue(typed);
                var answer = raw is { } number ? new MoistureAnswer(number, 0, "") : MoistureTrial.Point([.. invocation.Store.Journal.Read(probe, when).Select(reading => reading.Moisture).OfType<double>()]);
                var value = answer.Raw ?? throw new BadInputException(answer.Refusal);
                var kept = trial.Keep(invocation, probe, calibration => point == "dry" ? calibration with { DryRaw = value } : calibration with { SaturatedRaw = value }, answer.Spread);
                invocation.Answer(new { Probe = probe, kept.DryRaw, kept.SaturatedRaw, kept.From }, screen => screen.Headline(kept is { DryRaw: { } dry, SaturatedRaw: { } saturated }
                    ? string.Create(CultureInfo.InvariantCulture, $"The moisture of {probe} runs from {dry:0.###} (dry) to {saturated:0.###} (soaked), from {invocation.Show(kept.From)} on.")
                    : string.Create(CultureInfo.InvariantCulture, $"{value:0.###} is {point} for {probe}; now take the other point: chamber calibrate {(point == "dry" ? "saturated" : "dry")} {probe}")));
            });
    }

    private static Verb List()
    {
        var name = new Argument<string?>("probe") { Description = "Only this one.", Arity = ArgumentArity.ZeroOrOne };
        return new Verb("list", "What is added to each probe, since when, and how it was found.", "chamber calibrate list") { name }
            .Does(invocation =>
            {
                var asked = invocation.Parse.GetValue(name);
                var all = invocation.Store.Ledger.Places.Calibrations().Where(calibration => asked is null || calibration.Probe.Text == asked).ToList();
                invocation.Answer(all.ConvertAll(CalibrationAnswer.Of), screen => Show(screen, invocation, all));
            });
    }

    private static Verb Undo()
    {
        var name = new Argument<string>("probe") { Description = "Which probe." };
        return new Verb("undo", "Takes back what was found last of a probe.", "chamber calibrate undo shelf-1") { name }
            .Does(invocation =>
            {
                var probe = TrialOptions.Known(invocation, invocation.Parse.GetValue(name)!);
                var last = new HomeCalibrations(invocation.Store).Of(probe).LastOrDefault() ?? throw new BadInputException($"Nothing was found of {probe} yet.");
                invocation.Store.Ledger.Places.Remove(last);
                invocation.Answer(new { Probe = probe, last.From }, screen => screen.Headline($"What counted for {probe} from {invocation.Show(last.From)} on is taken back."));
            });
    }

    private static IReadOnlyList<HourlyMean> Hours(Invocation invocation, ProbeId probe, Interval when, Func<TemperatureSample, TemperatureSample> correct)
    {
        var gap = invocation.Store.Ledger.Places.Probe(probe)?.Probe.MaxGap ?? Probe.DefaultMaxGap;
        return HourlyMeans.Of(TemperatureTrace.Of(invocation.Store.Journal.ReadTemperatures(probe, when).Select(correct), gap), invocation.Zone);
    }

    private static void Keep(Invocation invocation, TrialOptions trial, ProbeId probe, OffsetAnswer answer, string how)
    {
        var found = answer.Found ?? throw new BadInputException(answer.Refusal);
        var kept = trial.Keep(invocation, probe, calibration => calibration with { Offset = found.Offset, Uncertainty = found.Uncertainty, Note = how });
        invocation.Answer(
            new { Probe = probe, OffsetKelvins = found.Offset.Kelvins, UncertaintyKelvins = found.Uncertainty.Kelvins, found.Values, How = how, kept.From },
            screen => screen.Headline($"{Signed(screen.Scale, found.Offset)} is added to {probe} (±{screen.Scale.ShowSmall(found.Uncertainty)}, {how}), from {invocation.Show(kept.From)} on. Its raw readings stay as they are."));
    }

    private static void Show(Screen screen, Invocation invocation, List<Calibration> all)
    {
        if (all.Count == 0)
        {
            screen.Headline("Nothing was found yet: every probe is believed as it reads.");
            screen.Say("A degree too high costs the forecast of pepper at 18 °C (64 °F) two days. Put a probe beside one that you trust for a night: chamber calibrate offset PROBE --against PROBE");
            return;
        }

        screen.Table(["Probe", "From", ">Added", ">±", ">Humidity", "Moisture", "How"], all.Select(calibration => new[]
        {
            calibration.Probe.Text,
            invocation.Show(calibration.From),
            Signed(screen.Scale, calibration.Offset),
            calibration.Uncertainty is { } uncertainty ? screen.Scale.ShowSmall(uncertainty) : "-",
            calibration.HumidityPoints is { } points ? points.ToString("+0.0;-0.0", CultureInfo.InvariantCulture) : "-",
            calibration.DryRaw is null && calibration.SaturatedRaw is null ? "-" : string.Create(CultureInfo.InvariantCulture, $"{calibration.DryRaw:0.###} to {calibration.SaturatedRaw:0.###}"),
            calibration.Note ?? "-",
        }));
    }

    private static string Signed(TemperatureScale scale, TemperatureDifference offset) => (offset.Kelvins > 0 ? "+" : "") + scale.ShowSmall(offset);
}

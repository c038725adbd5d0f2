using System.CommandLine;
using System.Globalization;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Spots;

/// <summary>Finds out by how much a probe is wrong, and writes it down with its date.</summary>
internal static class CalibrateVerb
{
    public static Verb Create() =>
        new("calibrate", "Finds how far off a probe is: side by side, in ice water, over salt, in dry and soaked mix.",
        "chamber calibrate offset shelf-1 --against kitchen")
    {
        Offset(), Ice(), Salt(), Moisture("dry"), Moisture("saturated"), List(), Undo(),
    };

    private static Verb Offset()
    {
        var calibration = new CalibrationOptions();
        var against = new Option<string>("--against") { HelpName = "PROBE", Description = "The probe to trust.", Required = true };
        return calibration.On(
            new Verb("offset", "Finds a probe's offset from a night beside a probe you trust, both in one closed box.",
            "chamber calibrate offset shelf-1 --against kitchen",
            "chamber calibrate offset shelf-1 --against kitchen --from \"2027-02-01 21:00\" --to \"2027-02-02 07:00\"") { against })
            .Does(invocation =>
            {
                var (probe, when, since) = calibration.Read(invocation, CalibrationWay.SideBySide);
                var trusted = invocation.CalibrationRuns.Known(invocation.Parse.GetValue(against)!);
                ShowOffset(invocation, invocation.CalibrationRuns.SideBySide(probe, trusted, when, since), []);
            });
    }

    private static Verb Ice()
    {
        var calibration = new CalibrationOptions();
        return calibration.On(new Verb("ice", "Finds a probe's offset from its last 20 minutes in ice water, which is at 0 °C (32 °F).",
            "chamber calibrate ice soil-1"))
            .Does(invocation =>
            {
                var (probe, when, since) = calibration.Read(invocation, CalibrationWay.IceWater);
                ShowOffset(invocation, invocation.CalibrationRuns.IceWater(probe, when, since), [ShownCaution.Whole(CautionBook.IceBath)]);
            });
    }

    private static Verb Salt()
    {
        var calibration = new CalibrationOptions();
        return calibration.On(
            new Verb("salt", "Finds the humidity offset from the last 2 hours in a closed jar over a wet slurry of table salt, "
                + "where it is 75 %.",
            "chamber calibrate salt box-air"))
            .Does(invocation =>
            {
                var (probe, when, since) = calibration.Read(invocation, CalibrationWay.TableSalt);
                var (kept, _, uncertainty) = invocation.CalibrationRuns.TableSalt(probe, when, since);
                invocation.Answer(new { Probe = probe, kept.HumidityPoints, Uncertainty = uncertainty, kept.From },
                    screen => screen.Headline(
                    string.Create(CultureInfo.InvariantCulture,
                        $"{kept.HumidityPoints:+0.0;-0.0} points are added to the humidity of {probe} (±{uncertainty:0.0}), from "
                        + $"{invocation.Show(kept.From)} on.")));
            });
    }

    private static Verb Moisture(string point)
    {
        var calibration = new CalibrationOptions();
        var typed = new Option<double?>("--raw") { HelpName = "NUMBER",
            Description = "The raw value. Default: the median of the last half hour." };
        return calibration.On(
            new Verb(point, point == "dry" ? "Sets the dry end of a moisture scale: the raw value in dry mix."
                : "Sets the wet end of a moisture scale: the raw value in soaked mix.", $"chamber calibrate {point} soil-1",
                $"chamber calibrate {point} soil-1 --raw 812") { typed })
            .Does(invocation =>
            {
                var isDry = point == "dry";
                var (probe, when, since) = calibration.Read(invocation, isDry ? CalibrationWay.DryMix : CalibrationWay.SoakedMix);
                var kept = invocation.CalibrationRuns.Moisture(probe, isDry, invocation.Parse.GetValue(typed), when, since).Kept;
                var value = isDry ? kept.DryRaw : kept.SaturatedRaw;
                invocation.Answer(new { Probe = probe, kept.DryRaw, kept.SaturatedRaw, kept.From },
                    screen => screen.Headline(kept is { DryRaw: { } dry, SaturatedRaw: { } saturated }
                    ? string.Create(CultureInfo.InvariantCulture,
                        $"The moisture of {probe} runs from {dry:0.###} (dry) to {saturated:0.###} (soaked), from "
                        + $"{invocation.Show(kept.From)} on.")
                    : string.Create(CultureInfo.InvariantCulture,
                        $"{value:0.###} is {point} for {probe}; now take the other point: chamber calibrate "
                        + $"{(point == "dry" ? "saturated" : "dry")} {probe}")));
            });
    }

    private static Verb List()
    {
        var name = new Argument<string?>("probe") { Description = "Only this one.", Arity = ArgumentArity.ZeroOrOne };
        return new Verb("list", "Lists what is added to each probe's readings, since when, and how it was found.",
            "chamber calibrate list") { name }
            .Does(invocation =>
            {
                var asked = invocation.Parse.GetValue(name);
                var all = invocation.Home.Ledger.Calibrations
                    .Where(calibration => asked is null || calibration.Probe.Text == asked).ToList();
                invocation.Answer(all.ConvertAll(CalibrationAnswer.Of), screen => Show(screen, invocation, all));
            });
    }

    private static Verb Undo()
    {
        var name = new Argument<string>("probe") { Description = "Which probe." };
        return new Verb("undo", "Undoes a probe's latest calibration.", "chamber calibrate undo shelf-1") { name }
            .Does(invocation =>
            {
                var probe = invocation.CalibrationRuns.Known(invocation.Parse.GetValue(name)!);
                var last = invocation.CalibrationRuns.Undo(probe);
                invocation.Answer(new { Probe = probe, last.From },
                    screen => screen.Headline($"The calibration of {probe} from {invocation.Show(last.From)} on is undone."));
            });
    }

    private static void ShowOffset(Invocation invocation, CalibrationResult result, IReadOnlyList<ShownCaution> cautions)
    {
        var (kept, values, _) = result;
        invocation.Answer(
            new { kept.Probe, OffsetKelvins = kept.Offset.Kelvins, UncertaintyKelvins = kept.Uncertainty!.Value.Kelvins, Values = values,
                How = kept.Note, kept.From },
            cautions,
            screen => screen.Headline(
                $"{CalibrationWords.Signed(screen.Scale, kept.Offset)} is added to {kept.Probe} (±{screen.Scale.ShowSmall(kept.Uncertainty.Value)}, "
                + $"{kept.Note}), from {invocation.Show(kept.From)} on. Its raw readings stay as they are."));
    }

    private static void Show(Screen screen, Invocation invocation, List<Calibration> all)
    {
        if (all.Count == 0)
        {
            screen.Headline("No probe is calibrated yet; each is believed as it reads.");
            screen.Say("One degree too high moves the forecast of pepper at 18 °C (64 °F) by two days. Put a probe beside one you trust "
                + "for a night: chamber calibrate offset PROBE --against PROBE");
            return;
        }

        screen.Table(["Probe", "From", ">Added", ">±", ">Humidity", "Moisture", "How"], all.Select(calibration => new[]
        {
            calibration.Probe.Text,
            invocation.Show(calibration.From),
            CalibrationWords.Signed(screen.Scale, calibration.Offset),
            calibration.Uncertainty is { } uncertainty ? screen.Scale.ShowSmall(uncertainty) : "-",
            calibration.HumidityPoints is { } points ? points.ToString("+0.0;-0.0", CultureInfo.InvariantCulture) : "-",
            calibration.DryRaw is null && calibration.SaturatedRaw is null ? "-"
                : string.Create(CultureInfo.InvariantCulture, $"{calibration.DryRaw:0.###} to {calibration.SaturatedRaw:0.###}"),
            calibration.Note ?? "-",
        }));
    }
}

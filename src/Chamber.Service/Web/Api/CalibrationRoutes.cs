using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Chamber.Service.Web.Api;

/// <summary>By how much probes are wrong, and finding it out.</summary>
internal static class CalibrationRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup(string.Empty).WithTags("Probes");
        writes = writes.MapGroup("/probes/{probe}/calibrations").WithTags("Probes").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/calibrations", (PageHome page) => All(page.Read(), null)).WithName("Calibrations")
            .WithSummary("What is added to each probe, since when, and how it was found.");
        reads.MapGet("/probes/{probe}/calibrations",
            (PageHome page, string probe) => All(page.Read(), new CalibrationRuns(page.Read(), page.Now).Known(probe)))
            .WithName("ProbeCalibrations").WithSummary("The same of one probe, in order of time.")
                .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPost("", (PageHome page, string probe, CalibrationRequest calibration) => TryAsync(page, probe, calibration))
            .WithName("Calibrate")
                .WithSummary("Finds out by how much a probe is wrong, from what it reported during a calibration: side by side, in ice water, "
                + "over salt, in dry and soaked mix. Only a probe that is made to be under water, on battery or unplugged, belongs in ice water.");
        writes.MapDelete("/last", (PageHome page, string probe) => UndoAsync(page, probe)).WithName("UndoCalibration")
            .WithSummary("Takes back what was found last of a probe.");
    }

    private static List<CalibrationAnswer> All(HomeReader home, ProbeId? probe) =>
        [.. home.Ledger.Calibrations.Where(calibration => probe is null || calibration.Probe == probe)
            .Select(CalibrationAnswer.Of)];

    private static async Task<Ok<CalibrationAnswer>> TryAsync(PageHome page, string name, CalibrationRequest asked)
    {
        var kept = await page.WriteAsync((home, now) =>
        {
            var runs = new CalibrationRuns(home, now);
            var probe = runs.Known(name);
            var when = SpotRoutes.Span(page, asked.From, asked.To, CalibrationRuns.UsualLength(asked.Way));
            var since = home.TimeOf(asked.Since, now, "since");
            return asked.Way switch
            {
                CalibrationWay.SideBySide =>
                    runs.SideBySide(probe,
                    BadInputException.In("against",
                    () => runs.Known(asked.Against ?? throw new FormatException("against is missing: name the probe to trust."))), when,
                    since),
                CalibrationWay.IceWater => runs.IceWater(probe, when, since),
                CalibrationWay.TableSalt => runs.TableSalt(probe, when, since),
                var way => runs.Moisture(probe, way == CalibrationWay.DryMix, asked.Raw, when, since),
            };
        });
        return TypedResults.Ok(CalibrationAnswer.Of(kept.Kept) with
        {
            Cautions = asked.Way == CalibrationWay.IceWater ? [CautionAnswer.Of(CautionBook.IceBath)] : [],
        });
    }

    private static async Task<NoContent> UndoAsync(PageHome page, string name)
    {
        await page.WriteAsync((home, now) =>
        {
            var runs = new CalibrationRuns(home, now);
            return runs.Undo(runs.Known(name));
        });
        return TypedResults.NoContent();
    }
}

/// <summary>A calibration of a probe.</summary>
/// <param name="Way">How it was tried.</param>
/// <param name="From">Since when it was so; 14 h before the end side by side, 20 minutes in ice water, 2 h over salt, half an hour in mix,
/// by default.</param>
/// <param name="To">Until when; now by default.</param>
/// <param name="Since">Readings from then on are corrected; from now on by default.</param>
/// <param name="Against">Side by side: the probe to trust.</param>
/// <param name="Raw">In mix: the raw value, where it is known.</param>
internal sealed record CalibrationRequest(CalibrationWay Way, string? From = null, string? To = null, string? Since = null,
    string? Against = null, double? Raw = null);

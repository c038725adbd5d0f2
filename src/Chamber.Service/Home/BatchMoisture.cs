using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using Chamber.Core.Crops;
using Chamber.Core.Water;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// What media probes on a batch's spots said of its water: only probes of which dry and saturated readings were taken. One lies in a single
/// container and is taken to speak for all on its spot, as for temperature.
/// </summary>
internal static class BatchMoisture
{
    private static readonly Duration Day = Duration.FromHours(24);

    /// <summary>When a batch lay dry, by its looks and by such probes.</summary>
    public static IReadOnlyList<DryTime> DryTimesOf(HomeReader home, Batch batch, Instant until) =>
        DryTimes.Of(
            batch, home.Catalog.Find(batch.Crop) is { } crop ? BaseWater.Of(crop) : BaseWater.Assumed, until, Steps(home, batch, until));

    /// <summary>The percent of the saturated reading within the last day; null where none was measured.</summary>
    public static double? Now(HomeReader home, Batch batch, Instant now) =>
        Steps(home, batch, now, Instant.Max(batch.SownAt, now - Day)) is [.., var last] ? last.Percent : null;

    private static List<DampStep> Steps(HomeReader home, Batch batch, Instant until, Instant? since = null)
    {
        var calibrations = new HomeCalibrations(home.Ledger);
        var media = home.Ledger.Probes.Select(entry => entry.Probe).Where(probe => probe.Measurand == Measurand.Media
            && calibrations.Of(probe.Id).Any(each => each is { DryRaw: not null, SaturatedRaw: not null })).ToList();
        return media.Count == 0 ? [] : [.. batch.Stays
            .SelectMany(stay => home.Ledger.Stations.Where(station => station.Spot == stay.Spot)
                .SelectMany(station => media.Where(probe => probe.Id == station.Probe)
                    .SelectMany(probe => Steps(home, calibrations, probe, Shared(stay.When, station.When, since ?? batch.SownAt, until)))))
            .OrderBy(step => step.When.Start)];
    }

    private static IEnumerable<DampStep> Steps(HomeReader home, HomeCalibrations calibrations, Probe probe, Interval? when) =>
        when is not { } time ? [] : DampStep.Of(
            home.Ledger.Readings.Whole(probe.Id, time).Where(reading => reading.Moisture is not null)
                .Select(reading => (At: reading.MeasuredAt, Percent: calibrations.At(probe.Id, reading.MeasuredAt) is { } known
                    ? MediaMoisture.PercentOf(reading.Moisture!.Value, known.DryRaw, known.SaturatedRaw) : null))
                .Where(reading => reading.Percent is not null).Select(reading => (reading.At, reading.Percent!.Value)),
            probe.MaxGap);

    private static Interval? Shared(Interval stay, Interval station, Instant since, Instant until)
    {
        var from = Instant.Max(Instant.Max(stay.Start, station.Start), since);
        var to = Instant.Min(Instant.Min(End(stay), End(station)), until);
        return to > from ? new(from, to) : null;

        static Instant End(Interval time) => time.HasEnd ? time.End : Instant.MaxValue;
    }
}

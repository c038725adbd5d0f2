using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Export;

/// <summary>Everything but the readings, as flat rows: one file or list for each kind. Temperatures in °C, times in UTC.</summary>
internal sealed record HomeExport(
    IReadOnlyList<Spot> Spots,
    IReadOnlyList<StationRow> Stations,
    IReadOnlyList<LotRow> Lots,
    IReadOnlyList<TestRow> Tests,
    IReadOnlyList<BatchRow> Batches,
    IReadOnlyList<StayRow> Stays,
    IReadOnlyList<LookRow> Looks,
    IReadOnlyList<StageRow> Stages,
    IReadOnlyList<LossRow> Losses,
    IReadOnlyList<ProbeRow> Probes,
    IReadOnlyList<CalibrationRow> Calibrations,
    IReadOnlyList<CropRow> Crops,
    IReadOnlyList<AlertRow> Alerts)
{
    public static HomeExport Of(HomeReader home, Instant now)
    {
        var ledger = home.Ledger;
        var batches = ledger.Batches;
        var lots = home.At(now).Seeds.All();
        return new(
            ledger.Spots,
            [.. ledger.Stations.Select(one => new StationRow(one.Probe.Text, one.Spot.Text, one.When.Start, End(one.When)))],
            [.. lots.Select(LotRow.Of)],
            [.. ledger.AllTests.Select(
                one => new TestRow(one.Lot.Text, one.StartedAt, one.CalledAt, one.Seeds, one.Good, one.Fair, one.Batch?.Text, one.Note))],
            [.. batches.Select(BatchRow.Of)],
            [.. batches.SelectMany(
                batch => batch.Stays.Select(one => new StayRow(batch.Id.Text, one.Spot.Text, one.When.Start, End(one.When))))],
            [.. batches.SelectMany(batch => batch.Looks.Select(one => new LookRow(batch.Id.Text, one.At, one.Up, one.Note)))],
            [.. batches.SelectMany(
                batch => batch.Stages.Select(one => new StageRow(batch.Id.Text, one.Kind, one.At, one.Plants, one.Note)))],
            [.. batches.SelectMany(
                batch => batch.Losses.Select(one => new LossRow(batch.Id.Text, one.Cause, one.At, one.Plants, one.Note)))],
            [.. ledger.Probes.Select(
                one => new ProbeRow(one.Probe.Id.Text, one.Probe.Measurand, one.Probe.MaxGap.TotalMinutes, one.HandRead, one.Note))],
            [.. ledger.Calibrations
                .Select(one => new CalibrationRow(one.Probe.Text, one.From, one.Offset.Kelvins, one.DryRaw, one.SaturatedRaw, one.Note,
                one.Uncertainty?.Kelvins, one.HumidityPoints))],
            [.. ledger.Crops.Select(one => new CropRow(one.Crop.Text, one.Json))],
            [.. ledger.AlertsSince(NodaConstants.UnixEpoch).Reverse().Select(AlertRow.Of)]);
    }

    private static Instant? End(Interval when) => when.HasEnd ? when.End : null;
}

/// <summary>A stay of a probe on a spot.</summary>
internal sealed record StationRow(string Probe, string Spot, Instant From, Instant? To);

/// <summary>A lot, with what is believed of it.</summary>
internal sealed record LotRow(
    string Lot, string Crop, string? Variety, SeedOrigin Origin, int? Year, LotYearKind YearKind, int Left, decimal? Price,
        SeedStorage Storage,
    bool Treated, string? Parent, double? StatedShare, double GerminationLow, double Germination, double GerminationHigh,
        LotAdvice Advice, string? Note)
{
    public static LotRow Of(LotState state)
    {
        var (lot, share) = (state.Lot, state.Belief.Share.Interval());
        return new(
            lot.Id.Text, lot.Crop.Text, lot.Variety, lot.Origin, lot.Year, lot.YearKind, state.SeedsLeft, lot.Price, lot.Storage,
            lot.Treated, lot.Parent?.Text, lot.StatedShare, share.Low, share.Mid, share.High, state.Advice, lot.Note);
    }
}

/// <summary>A germination test.</summary>
internal sealed record TestRow(string Lot, Instant StartedAt, Instant? CalledAt, int Seeds, int Good, bool Fair,
    string? Batch, string? Note);

/// <summary>A batch.</summary>
internal sealed record BatchRow(
    string Batch, string Crop, string? Lot, SowingMethod Method, EmergenceEvent Event, Instant SownAt, int Seeds, int Containers, int? Up,
        int Lost, bool IsTest, string? Treatment, Instant? EndedAt, LocalDate? PlantOut)
{
    public static BatchRow Of(Batch batch) => new(
        batch.Id.Text, batch.Crop.Text, batch.Lot?.Text, batch.Method, batch.Method.Event(), batch.SownAt, batch.Seeds, batch.Containers,
        batch.Looks.Count > 0 ? batch.Looks[^1].Up : null, batch.Losses.Sum(loss => loss.Plants), batch.IsTest, batch.Treatment,
            batch.EndedAt, batch.PlantOut);
}

/// <summary>A stay of a batch on a spot.</summary>
internal sealed record StayRow(string Batch, string Spot, Instant From, Instant? To);

/// <summary>A look at a batch.</summary>
internal sealed record LookRow(string Batch, Instant At, int Up, string? Note);

/// <summary>Something done to a batch.</summary>
internal sealed record StageRow(string Batch, StageKind Stage, Instant At, int? Plants, string? Note);

/// <summary>Plants lost.</summary>
internal sealed record LossRow(string Batch, LossCause Cause, Instant At, int Plants, string? Note);

/// <summary>A probe.</summary>
internal sealed record ProbeRow(string Probe, Measurand Measures, double MaxGapMinutes, bool HandRead, string? Note);

/// <summary>A calibration of a probe: what is added to its temperature from a date on, and its moisture scale.</summary>
internal sealed record CalibrationRow(string Probe, Instant From, double OffsetKelvins, double? DryRaw, double? SaturatedRaw, string? Note,
    double? UncertaintyKelvins, double? HumidityPoints);

/// <summary>Your own crop, as it is kept.</summary>
internal sealed record CropRow(string Crop, string Json);

/// <summary>An alert as it was reported.</summary>
internal sealed record AlertRow(
    long Number, string Kind, string About, string Severity, Instant Since, Instant OpenedAt, Instant? ClosedAt, string? CloseReason,
        Instant? SeenAt, string? SeenBy)
{
    public static AlertRow Of(AlertEntry entry) => new(
        entry.Number, entry.Kind.Name, entry.Subject.Name, entry.Severity.ToString(), entry.Since, entry.OpenedAt, entry.ClosedAt,
        entry.CloseReason?.ToString(), entry.SeenAt, entry.SeenBy);
}

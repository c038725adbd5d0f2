using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>
/// What people record of batches: the same for the command line, the page and the API, so that all refuse the same in the
/// same words. Each returns the batch as it is then.
/// </summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="Core.RefusedException"/>, and then nothing was
/// written.</remarks>
internal sealed class HomeBatches(HomeReader home, Instant now)
{
    private BatchLedger Ledger => home.Writing(now).Batches;

    public Batch Sow(SowRequest sowing)
    {
        var crop = BadInputException.In("crop", () => home.Catalog.Require(sowing.Crop));
        var spot = BadInputException.In("spot", () => home.RequireSpot(sowing.Spot));
        var at = home.PastOf(sowing.At, now);
        var lot = sowing.Lot is { } named ? BadInputException.In("lot", () => home.At(now).Seeds.Require(named.Text)).Lot.Id : sowing.Lot;
        var batch = new Batch(
            sowing.Name ?? Ledger.FreeId(crop.Id),
            crop.Id,
            lot,
            sowing.Method ?? (crop.Light == LightNeed.NeedsLight ? SowingMethod.OpenMix : SowingMethod.CoveredMix),
            at,
            In("seeds", Bounds.Seeds, sowing.Seeds),
            [new Stay(spot.Id, new Interval(at, null))],
            [])
        {
            Containers = In("containers", Bounds.Containers, sowing.Containers ?? 1),
            DepthMillimetres = Depth(sowing.Depth, sowing.Method),
            Treatment = Filled("treatment", Bounds.Treatment, sowing.Treatment),
        };
        Ledger.Sow(batch);
        return Again(batch.Id);
    }

    public Batch Look(string name, LookRequest seen)
    {
        var batch = home.RequireBatch(name);
        var look = new Look(home.PastOf(seen.At, now), seen.Up, Note(seen.Note), seen.Moisture);
        Ledger.Record(batch.Id, look);
        return Again(batch.Id);
    }

    public Batch TakeBackLook(string name, string at)
    {
        var batch = home.RequireBatch(name);
        Ledger.RemoveLook(batch.Id, home.TimeOf(at, now));
        return Again(batch.Id);
    }

    public Batch TakeBackStage(string name, Instant at)
    {
        var batch = home.RequireBatch(name);
        Ledger.RemoveStage(batch.Id, at);
        return Again(batch.Id);
    }

    public Batch TakeBackLoss(string name, Instant at)
    {
        var batch = home.RequireBatch(name);
        Ledger.RemoveLoss(batch.Id, at);
        return Again(batch.Id);
    }

    /// <summary>Takes back that a batch has ended.</summary>
    public Batch Reopen(string name)
    {
        var batch = home.RequireBatch(name);
        Ledger.Reopen(batch.Id);
        return Again(batch.Id);
    }

    public Batch Stage(string name, StageRequest done)
    {
        var batch = home.RequireBatch(name);
        var stage = new Stage(done.Done, home.PastOf(done.At, now), done.Plants is { } plants ? In("plants", Bounds.Seeds, plants) : null,
            Note(done.Note));
        Ledger.Record(batch.Id, stage, new ToTheLight(home, batch).SpotFor(stage, done.Spot));
        return Again(batch.Id);
    }

    public Batch Lose(string name, LossRequest lost)
    {
        var batch = home.RequireBatch(name);
        var loss = new Loss(home.PastOf(lost.At, now), In("plants", Bounds.Seeds, lost.Plants), lost.Cause ?? LossCause.Unknown,
            Note(lost.Note));
        Ledger.Record(batch.Id, loss);
        return Again(batch.Id);
    }

    public Batch Wet(string name, MomentRequest when)
    {
        var batch = home.RequireBatch(name);
        Ledger.Wet(batch.Id, home.PastOf(when.At, now));
        return Again(batch.Id);
    }

    public Batch Move(string name, MoveRequest to)
    {
        var batch = home.RequireBatch(name);
        var spot = BadInputException.In("spot", () => home.RequireSpot(to.Spot));
        Ledger.Move(batch.Id, spot.Id, home.PastOf(to.At, now));
        return Again(batch.Id);
    }

    public Batch End(string name, MomentRequest when)
    {
        var batch = home.RequireBatch(name);
        Ledger.End(batch.Id, home.PastOf(when.At, now));
        return Again(batch.Id);
    }

    /// <summary>Sets the day a batch is to be planted out; reminders count back from it.</summary>
    public Batch PlantOut(string name, LocalDate day)
    {
        var batch = home.RequireBatch(name);
        BadInputException.In("day", () => Bounds.Year.Require(day.Year));
        Ledger.PlantOut(batch.Id, day, home.Zone);
        return Again(batch.Id);
    }

    private static double? Depth(double? depth, SowingMethod? method) => depth switch
    {
        null => null,
        > 0 when method is SowingMethod.DampTowel or SowingMethod.OpenMix =>
            throw BadInputException.In("depth", "Seed on a towel or on open mix has no mix above it: leave the depth out."),
        { } known => BadInputException.In("depth", () => Bounds.Depth.Require(known)),
    };

    private Batch Again(BatchId id) => Ledger.Find(id) ?? throw BadInputException.Unknown($"There is no batch \"{id}\".");

    private static int In(string field, Bound bound, int number) => BadInputException.In(field, () => bound.Require(number));

    private static string? Note(string? text) => Filled("note", Bounds.Note, text);

    private static string? Filled(string field, TextBound bound, string? text) =>
        string.IsNullOrWhiteSpace(text) ? null : BadInputException.In(field, () => bound.Require(text.Trim()));
}

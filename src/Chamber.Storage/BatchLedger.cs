using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Storage.Files;
using Chamber.Storage.Records;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage;

/// <summary>Batches and everything that was seen of them and done to them.</summary>
public sealed class BatchLedger
{
    private readonly Database database;

    internal BatchLedger(Database database) => this.database = database;

    /// <summary>Every batch, or only those that have not ended, in order of sowing.</summary>
    public IReadOnlyList<Batch> All(bool open = false) => database.Read(connection =>
        KeptBatches.Of(database.LeftOut, BatchRows.Load(connection, open ? "WHERE ended_at IS NULL" : "")));

    public Batch? Find(BatchId id) => database.Read(connection => Kept(connection, id));

    /// <summary>A free name that is short enough for a stick: the crop's first letter and the smallest free number.</summary>
    public BatchId FreeId(CropId crop) => database.Read(connection =>
    {
        var letter = char.ToUpperInvariant(crop.Text[0]);
        var taken = connection.Rows(row => row.GetString(0), "SELECT id FROM batch").ToHashSet(StringComparer.OrdinalIgnoreCase);
        var number = 1;
        while (taken.Contains($"{letter}{number}"))
        {
            number++;
        }

        return new BatchId($"{letter}{number}");
    });

    /// <summary>Records a sowing, with whatever stays, looks and stages it has already.</summary>
    public void Sow(Batch batch) => database.WriteDown(connection =>
    {
        if (BatchRows.Find(connection, batch.Id) is { } old && KeptBatches.WhyNot(old) is not null)
        {
            // It counted for nothing: now it is put right.
            connection.Execute("DELETE FROM batch WHERE id = ?1", batch.Id.Text);
            database.LeftOut.Forget(KeptBatches.Named(batch.Id));
        }

        LedgerRefusedException.When(
            connection.Whole("SELECT count(*) FROM batch WHERE id = ?1", batch.Id.Text) > 0,
            $"There is a batch \"{batch.Id}\" already; take another name.");
        if (batch.Lot is { } lot)
        {
            SeedLedger.Require(connection, lot);
            BatchRules.RequireLot(batch, lot, new(connection.Text("SELECT crop FROM lot WHERE id = ?1", lot.Text)!));
        }

        Write(connection, null, BatchRules.Sown(batch));
    });

    /// <summary>Puts a batch on a spot from a time on. Where it stood before ends then.</summary>
    public void Move(BatchId id, SpotId spot, Instant at) => Change(id, batch => BatchStays.Moved(batch, spot, at));

    /// <summary>Records a look. The count may only grow from look to look; plants that were lost are recorded as losses.</summary>
    public void Record(BatchId id, Look look) => Change(id, batch => BatchRules.Looked(batch, look));

    /// <summary>Records what was done, and in one with it that the batch is on another spot from then on.</summary>
    /// <param name="id">The batch.</param>
    /// <param name="stage">What was done.</param>
    /// <param name="to">Where it stands now; null where it was.</param>
    public void Record(BatchId id, Stage stage, SpotId? to = null) => Change(id, batch =>
    {
        var done = BatchRules.Done(batch, stage);
        return to is { } spot ? BatchStays.Moved(done, spot, stage.At) : done;
    });

    /// <summary>Records plants that were lost.</summary>
    public void Record(BatchId id, Loss loss) => Change(id, batch => BatchRules.Lost(batch, loss));

    /// <summary>Records that it was wetted again.</summary>
    public void Wet(BatchId id, Instant at) => Change(id, batch => BatchRules.Wetted(batch, at));

    /// <summary>Says when it is to be planted out.</summary>
    public void PlantOut(BatchId id, LocalDate day, DateTimeZone zone) => Change(id, batch => BatchRules.ToPlantOut(batch, day, zone));

    /// <summary>Planted out, potted up or given up: nothing is watched after that.</summary>
    public void End(BatchId id, Instant at) => Change(id, batch => BatchStays.Ended(batch, at));

    /// <summary>Takes back that it ended; its last stay goes on.</summary>
    public void Reopen(BatchId id) => Change(id, BatchStays.Reopened);

    /// <summary>Takes a look out of the record: it was a mistake.</summary>
    public void RemoveLook(BatchId id, Instant at) => Strike(id, "DELETE FROM look WHERE batch = ?1 AND at = ?2", at, "look");

    /// <summary>Takes a stage out of the record: it was a mistake. A move to the light that was recorded with it is taken back
    /// too.</summary>
    public void RemoveStage(BatchId id, Instant at) => database.WriteDown(connection =>
    {
        var batch = Require(connection, id);
        var stage = batch.Stages.FirstOrDefault(one => one.At == at);
        LedgerRefusedException.When(stage is null, () => new($"Batch \"{id}\" has no stage at {at}."));
        connection.Execute("DELETE FROM stage WHERE batch = ?1 AND at = ?2", id.Text, at.Milliseconds());
        if (stage!.Kind == StageKind.MovedToLight && batch.Stays is [.., var before, var last] && last.When.Start == at
            && before.When.HasEnd && before.When.End == at)
        {
            connection.Execute("DELETE FROM stay WHERE batch = ?1 AND start = ?2", id.Text, at.Milliseconds());
            connection.Execute("UPDATE stay SET end = ?3 WHERE batch = ?1 AND end = ?2", id.Text, at.Milliseconds(),
                last.When.HasEnd ? last.When.End.Milliseconds() : null);
        }
    });

    /// <summary>Takes a loss out of the record: it was a mistake.</summary>
    public void RemoveLoss(BatchId id, Instant at) => Strike(id, "DELETE FROM loss WHERE batch = ?1 AND at = ?2", at, "loss");

    /// <summary>Takes a whole batch out of the record: it was never sown.</summary>
    public void Remove(BatchId id) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute("DELETE FROM batch WHERE id = ?1", id.Text) == 0,
        Unknown(id)));

    private void Change(BatchId id, Func<Batch, Batch> change) => database.WriteDown(connection =>
    {
        var before = Require(connection, id);
        Write(connection, before, change(before));
    });

    private Batch Require(SqliteConnection connection, BatchId id) => Kept(connection, id) ?? throw new LedgerRefusedException(Unknown(id));

    private Batch? Kept(SqliteConnection connection, BatchId id) =>
        BatchRows.Find(connection, id) is { } batch ? KeptBatches.Of(database.LeftOut, [batch]).FirstOrDefault() : null;

    private void Strike(BatchId id, string sql, Instant at, string what) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute(sql, id.Text, at.Milliseconds()) == 0,
        () => new($"Batch \"{id}\" has no {what} at {at}.")));

    private static string Unknown(BatchId id) => $"There is no batch \"{id}\".";

    private static void Write(SqliteConnection connection, Batch? before, Batch after)
    {
        LedgerRefusedException.When(WithinBounds.WhyNotWhole(after));
        foreach (var stay in after.Stays)
        {
            PlaceLedger.Require(connection, stay.Spot);
        }

        BatchRows.Write(connection, before, after);
    }
}

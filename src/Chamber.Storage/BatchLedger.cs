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

    /// <summary>Writes down a sowing, with whatever stays, looks and stages it has already.</summary>
    public void Sow(Batch batch) => database.WriteDown(connection =>
    {
        if (BatchRows.Find(connection, batch.Id) is { } old && KeptBatches.WhyNot(old) is not null)
        {
            // It counted for nothing: now it is put right.
            connection.Execute("DELETE FROM batch WHERE id = ?1", batch.Id.Text);
            database.LeftOut.Forget(KeptBatches.Named(batch.Id));
        }

        if (batch.Lot is { } lot)
        {
            SeedLedger.Require(connection, lot);
        }

        BatchRules.CheckSowing(connection, batch);
        BatchRows.Insert(connection, batch);
        foreach (var stay in batch.Stays)
        {
            AddStay(connection, batch, stay);
        }

        foreach (var look in batch.Looks)
        {
            AddLook(connection, batch, look);
        }

        foreach (var stage in batch.Stages)
        {
            Add(connection, batch, stage);
        }

        foreach (var loss in batch.Losses)
        {
            Add(connection, batch, loss);
        }
    });

    /// <summary>Puts a batch on a spot from a time on. Where it stood before ends then.</summary>
    public void Move(BatchId id, SpotId spot, Instant at) => Change(id, (connection, batch) => Move(connection, batch, spot, at));

    /// <summary>Writes down a look. The count may only grow from look to look; plants that were lost are recorded as losses.</summary>
    public void Record(BatchId id, Look look) => Change(id, (connection, batch) => AddLook(connection, batch, look));

    /// <summary>Writes down what was done, and in one with it that the batch stands on another spot from then on.</summary>
    /// <param name="id">The batch.</param>
    /// <param name="stage">What was done.</param>
    /// <param name="to">Where it stands now; null where it stood.</param>
    public void Record(BatchId id, Stage stage, SpotId? to = null) => Change(id, (connection, batch) =>
    {
        Add(connection, batch, stage);
        if (to is { } spot)
        {
            Move(connection, batch, spot, stage.At);
        }
    });

    /// <summary>Writes down plants that were lost.</summary>
    public void Record(BatchId id, Loss loss) => Change(id, (connection, batch) => Add(connection, batch, loss));

    /// <summary>Writes down that it was wetted again.</summary>
    public void Wet(BatchId id, Instant at) => Change(id, (connection, batch) =>
    {
        BatchRules.CheckTime(batch, at);
        connection.Execute("INSERT OR IGNORE INTO wetting (batch, at) VALUES (?1, ?2)", id.Text, at.Milliseconds());
    });

    /// <summary>When it was wetted again, in order of time; sowing is a wetting too and not among them.</summary>
    public IReadOnlyList<Instant> Wettings(BatchId id) => database.Read(connection =>
        connection.Rows(row => row.Moment(0), "SELECT at FROM wetting WHERE batch = ?1 ORDER BY at", id.Text));

    /// <summary>Planted out, potted up or given up: nothing is watched after that.</summary>
    public void End(BatchId id, Instant at) => Change(id, (connection, batch) =>
    {
        BatchRules.CheckEnd(batch, at);
        EndStay(connection, batch, at);
        connection.Execute("UPDATE batch SET ended_at = ?2 WHERE id = ?1", id.Text, at.Milliseconds());
    });

    /// <summary>Takes back that it ended; its last stay goes on.</summary>
    public void Reopen(BatchId id) => Change(id, (connection, batch) =>
    {
        LedgerRefusedException.When(batch.EndedAt is null, $"Batch \"{id}\" has not ended.");
        connection.Execute("UPDATE stay SET end = NULL WHERE batch = ?1 AND end = ?2", id.Text, batch.EndedAt.Milliseconds());
        connection.Execute("UPDATE batch SET ended_at = NULL WHERE id = ?1", id.Text);
    });

    /// <summary>Takes a look out of the record: it was a mistake.</summary>
    public void RemoveLook(BatchId id, Instant at) => Strike(id, "DELETE FROM look WHERE batch = ?1 AND at = ?2", at, "look");

    /// <summary>Takes a stage out of the record: it was a mistake. A move to the light that was written down with it is taken back
    /// too.</summary>
    public void RemoveStage(BatchId id, Instant at) => Change(id, (connection, batch) =>
    {
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
        BatchRules.Unknown(id)));

    private void Change(BatchId id, Action<SqliteConnection, Batch> work) => database.WriteDown(connection =>
        work(connection, Kept(connection, id) ?? throw new LedgerRefusedException(BatchRules.Unknown(id))));

    private Batch? Kept(SqliteConnection connection, BatchId id) =>
        BatchRows.Find(connection, id) is { } batch ? KeptBatches.Of(database.LeftOut, [batch]).FirstOrDefault() : null;

    private void Strike(BatchId id, string sql, Instant at, string what) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute(sql, id.Text, at.Milliseconds()) == 0,
        () => new($"Batch \"{id}\" has no {what} at {at}.")));

    private static void Move(SqliteConnection connection, Batch batch, SpotId spot, Instant at)
    {
        LedgerRefusedException.When(
            batch.Stays is [.., var last] && !last.When.HasEnd && last.Spot == spot,
            $"Batch \"{batch.Id}\" is on \"{spot}\" already.");
        EndStay(connection, batch, at);
        AddStay(connection, batch, new(spot, new(at, null)));
    }

    private static void AddStay(SqliteConnection connection, Batch batch, Stay stay)
    {
        PlaceLedger.Require(connection, stay.Spot);
        BatchRules.CheckStay(connection, batch, stay);
        connection.Execute(
            "INSERT INTO stay (batch, start, spot, end) VALUES (?1, ?2, ?3, ?4)",
            batch.Id.Text, stay.When.Start.Milliseconds(), stay.Spot.Text, stay.When.HasEnd ? stay.When.End.Milliseconds() : null);
    }

    private static void EndStay(SqliteConnection connection, Batch batch, Instant at)
    {
        if (batch.Stays is not [.., var last] || last.When.HasEnd)
        {
            return;
        }

        LedgerRefusedException.When(at <= last.When.Start,
            () => new($"Batch \"{batch.Id}\" was put on \"{last.Spot}\" at {last.When.Start}; it can only leave after that."));
        connection.Execute("UPDATE stay SET end = ?2 WHERE batch = ?1 AND end IS NULL", batch.Id.Text, at.Milliseconds());
    }

    private static void AddLook(SqliteConnection connection, Batch batch, Look look)
    {
        BatchRules.CheckLook(connection, batch, look);
        connection.Execute("INSERT INTO look (batch, at, up, note) VALUES (?1, ?2, ?3, ?4)", batch.Id.Text, look.At.Milliseconds(),
            look.Up, look.Note);
    }

    private static void Add(SqliteConnection connection, Batch batch, Stage stage)
    {
        BatchRules.CheckTime(batch, stage.At);
        LedgerRefusedException.When(WithinBounds.WhyNot(stage));
        LedgerRefusedException.When(stage.Plants < 1 || stage.Plants > batch.Seeds,
            $"Batch \"{batch.Id}\" has between 1 and {batch.Seeds} plants, not {stage.Plants}.");
        connection.Execute(
            "INSERT INTO stage (batch, kind, at, plants, note) VALUES (?1, ?2, ?3, ?4, ?5)",
            batch.Id.Text, stage.Kind.ToString(), stage.At.Milliseconds(), stage.Plants, stage.Note);
    }

    private static void Add(SqliteConnection connection, Batch batch, Loss loss)
    {
        BatchRules.CheckTime(batch, loss.At);
        BatchRules.CheckLoss(connection, batch, loss);
        connection.Execute(
            "INSERT INTO loss (batch, at, plants, cause, note) VALUES (?1, ?2, ?3, ?4, ?5)",
            batch.Id.Text, loss.At.Milliseconds(), loss.Plants, loss.Cause.ToString(), loss.Note);
    }
}

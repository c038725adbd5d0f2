using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Records;

/// <summary>What may be written down of a batch, given what is known of it.</summary>
internal static class BatchRules
{
    public static string Unknown(BatchId id) => $"There is no batch \"{id}\".";

    public static void CheckSowing(SqliteConnection connection, Batch batch)
    {
        LedgerRefusedException.When(WithinBounds.WhyNot(batch));
        LedgerRefusedException.When(batch.EndedAt < batch.SownAt, $"Batch \"{batch.Id}\" cannot end before it is sown.");
        LedgerRefusedException.When(
            connection.Whole("SELECT count(*) FROM batch WHERE id = ?1", batch.Id.Text) > 0,
            $"There is a batch \"{batch.Id}\" already; take another name.");
        if (batch.Lot is { } lot)
        {
            var crop = connection.Text("SELECT crop FROM lot WHERE id = ?1", lot.Text);
            LedgerRefusedException.When(crop != batch.Crop.Text, $"Lot \"{lot}\" is {crop}, not {batch.Crop}.");
        }
    }

    public static void CheckStay(SqliteConnection connection, Batch batch, Stay stay)
    {
        LedgerRefusedException.When(!stay.When.HasStart, "A stay needs a start.");
        CheckTime(batch, stay.When.Start);
        var other = connection.Text(
            "SELECT spot FROM stay WHERE batch = ?1 AND start < coalesce(?3, 9e18) AND coalesce(end, 9e18) > ?2",
            batch.Id.Text, stay.When.Start.Milliseconds(), stay.When.HasEnd ? stay.When.End.Milliseconds() : null);
        LedgerRefusedException.When(other is not null,
            $"Batch \"{batch.Id}\" stood on \"{other}\" then; a batch is on one spot at a time.");
    }

    public static void CheckLook(SqliteConnection connection, Batch batch, Look look)
    {
        LedgerRefusedException.When(WithinBounds.WhyNot(look));
        CheckTime(batch, look.At);
        LedgerRefusedException.When(look.Up < 0 || look.Up > batch.Seeds,
            $"{look.Up} cannot be up in batch \"{batch.Id}\": {batch.Seeds} seeds were sown.");
        var at = look.At.Milliseconds();
        LedgerRefusedException.When(
            connection.Whole("SELECT count(*) FROM look WHERE batch = ?1 AND at = ?2", batch.Id.Text, at) > 0,
            () => new($"There is a look at batch \"{batch.Id}\" at {look.At} already; remove it first."));
        Neighbour(connection, "SELECT up, at FROM look WHERE batch = ?1 AND at < ?2 AND up > ?3 ORDER BY at DESC", batch, look);
        Neighbour(connection, "SELECT up, at FROM look WHERE batch = ?1 AND at > ?2 AND up < ?3 ORDER BY at", batch, look);
    }

    public static void CheckLoss(SqliteConnection connection, Batch batch, Loss loss)
    {
        LedgerRefusedException.When(WithinBounds.WhyNot(loss));
        var before = connection.Whole("SELECT coalesce(sum(plants), 0) FROM loss WHERE batch = ?1", batch.Id.Text);
        LedgerRefusedException.When(
            loss.Plants < 1 || loss.Plants + before > batch.Seeds,
            $"Batch \"{batch.Id}\" of {batch.Seeds} seeds cannot lose {loss.Plants} plants"
                + (before > 0 ? $" after {before} were lost." : "."));
    }

    public static void CheckEnd(Batch batch, Instant at)
    {
        CheckTime(batch, at);
        var last = batch.Looks.Select(look => look.At).Concat(batch.Stages.Select(stage => stage.At))
            .Concat(batch.Losses.Select(loss => loss.At)).DefaultIfEmpty(batch.SownAt).Max();
        LedgerRefusedException.When(at < last,
            () => new($"Something was written down for batch \"{batch.Id}\" at {last}; it can only end after that."));
    }

    /// <summary>Between sowing and end.</summary>
    public static void CheckTime(Batch batch, Instant at)
    {
        LedgerRefusedException.When(at < batch.SownAt, () => new($"Batch \"{batch.Id}\" was sown at {batch.SownAt}; {at} is before that."));
        LedgerRefusedException.When(at > batch.EndedAt, () => new($"Batch \"{batch.Id}\" ended at {batch.EndedAt}; {at} is after that."));
    }

    private static void Neighbour(SqliteConnection connection, string sql, Batch batch, Look look)
    {
        var wrong = connection.Rows(row => (Up: row.GetInt32(0), At: row.Moment(1)), sql, batch.Id.Text, look.At.Milliseconds(), look.Up);
        LedgerRefusedException.When(
            wrong.Count > 0,
            () => new($"{wrong[0].Up} were up in batch \"{batch.Id}\" at {wrong[0].At}; count all that ever came up, and record losses as losses."));
    }
}

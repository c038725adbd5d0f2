using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime.Text;

namespace Chamber.Storage.Records;

/// <summary>Between batches and the tables they are kept in.</summary>
internal static class BatchRows
{
    /// <summary>Every batch, in order of sowing.</summary>
    public static List<Batch> Load(SqliteConnection connection)
    {
        var stays = Parts(
            connection,
            row => new Stay(new(row.GetString(1)), row.Stretch(2, 3)),
            "SELECT batch, spot, start, end FROM stay ORDER BY start");
        var looks = Parts(
            connection,
            row => new Look(row.Moment(1), row.Count(2), row.Text(3), row.Text(4) is null ? null : row.Word<LookMoisture>(4)),
            "SELECT batch, at, up, note, moisture FROM look ORDER BY at");
        var stages = Parts(
            connection,
            row => new Stage(row.Word<StageKind>(1), row.Moment(2), row.MaybeCount(3), row.Text(4)),
            "SELECT batch, kind, at, plants, note FROM stage ORDER BY at, number");
        var losses = Parts(
            connection,
            row => new Loss(row.Moment(1), row.Count(2), row.Word<LossCause>(3), row.Text(4)),
            "SELECT batch, at, plants, cause, note FROM loss ORDER BY at, number");
        var wettings = Parts(connection, row => row.Moment(1), "SELECT batch, at FROM wetting ORDER BY at");
        var photos = Parts(
            connection,
            row => new BatchPhoto(row.GetString(1), row.Moment(2), row.Text(3)) { Marks = PhotoMarks.Parse(row.GetString(4)) },
            "SELECT batch, name, at, note, marks FROM photo ORDER BY at");
        return connection.Rows(
            row => ToBatch(row) with
            {
                Stays = Of(stays, row),
                Looks = Of(looks, row),
                Stages = Of(stages, row),
                Losses = Of(losses, row),
                Wettings = Of(wettings, row),
                Photos = Of(photos, row),
            },
            """
            SELECT id, crop, lot, method, sown_at, seeds, containers, is_test, treatment, ended_at, plant_out, depth_mm
            FROM batch ORDER BY sown_at, id
            """);
    }

    /// <summary>
    /// Writes what is other than before; null for a new batch. What lies in the file and was left out of the batch stays there.
    /// </summary>
    public static void Write(SqliteConnection connection, Batch? before, Batch after)
    {
        WriteOwn(connection, after);
        var id = after.Id.Text;
        Change(
            before?.Stays, after.Stays,
            stay => connection.Execute("DELETE FROM stay WHERE batch = ?1 AND start = ?2", id, stay.When.Start.Milliseconds()),
            stay => connection.Execute(
                "INSERT INTO stay (batch, start, spot, end) VALUES (?1, ?2, ?3, ?4)",
                id, stay.When.Start.Milliseconds(), stay.Spot.Text, stay.When.HasEnd ? stay.When.End.Milliseconds() : null));
        Change(
            before?.Looks, after.Looks,
            look => connection.Execute("DELETE FROM look WHERE batch = ?1 AND at = ?2", id, look.At.Milliseconds()),
            look => connection.Execute(
                "INSERT INTO look (batch, at, up, note, moisture) VALUES (?1, ?2, ?3, ?4, ?5)",
                id, look.At.Milliseconds(), look.Up, look.Note, look.Moisture?.ToString()));
        Change(
            before?.Stages, after.Stages,
            stage => connection.Execute(
                "DELETE FROM stage WHERE batch = ?1 AND kind = ?2 AND at = ?3", id, stage.Kind.ToString(), stage.At.Milliseconds()),
            stage => connection.Execute(
                "INSERT INTO stage (batch, kind, at, plants, note) VALUES (?1, ?2, ?3, ?4, ?5)",
                id, stage.Kind.ToString(), stage.At.Milliseconds(), stage.Plants, stage.Note));
        Change(
            before?.Losses, after.Losses,
            loss => connection.Execute(
                "DELETE FROM loss WHERE batch = ?1 AND at = ?2 AND plants = ?3 AND cause = ?4 AND note IS ?5",
                id, loss.At.Milliseconds(), loss.Plants, loss.Cause.ToString(), loss.Note),
            loss => connection.Execute(
                "INSERT INTO loss (batch, at, plants, cause, note) VALUES (?1, ?2, ?3, ?4, ?5)",
                id, loss.At.Milliseconds(), loss.Plants, loss.Cause.ToString(), loss.Note));
        Change(
            before?.Wettings, after.Wettings,
            at => connection.Execute("DELETE FROM wetting WHERE batch = ?1 AND at = ?2", id, at.Milliseconds()),
            at => connection.Execute("INSERT INTO wetting (batch, at) VALUES (?1, ?2)", id, at.Milliseconds()));
        Change(
            before?.Photos, after.Photos,
            photo => connection.Execute("DELETE FROM photo WHERE batch = ?1 AND name = ?2", id, photo.Name),
            photo => connection.Execute(
                "INSERT INTO photo (batch, name, at, note, marks) VALUES (?1, ?2, ?3, ?4, ?5)",
                id, photo.Name, photo.At.Milliseconds(), photo.Note, photo.Marks.ToString()));
    }

    private static void WriteOwn(SqliteConnection connection, Batch batch) => connection.Execute(
        """
        INSERT INTO batch (id, crop, lot, method, sown_at, seeds, containers, is_test, treatment, ended_at, plant_out, depth_mm)
        VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)
        ON CONFLICT DO UPDATE SET crop = excluded.crop, lot = excluded.lot, method = excluded.method,
          sown_at = excluded.sown_at, seeds = excluded.seeds,
          containers = excluded.containers, is_test = excluded.is_test, treatment = excluded.treatment, ended_at = excluded.ended_at,
          plant_out = excluded.plant_out, depth_mm = excluded.depth_mm
        """,
        batch.Id.Text, batch.Crop.Text, batch.Lot?.Text, batch.Method.ToString(), batch.SownAt.Milliseconds(), batch.Seeds,
        batch.Containers, batch.IsTest,
        batch.Treatment, batch.EndedAt.Milliseconds(), batch.PlantOut is { } day ? LocalDatePattern.Iso.Format(day) : null,
        batch.DepthMillimetres);

    private static void Change<T>(IReadOnlyList<T>? before, IReadOnlyList<T> after, Action<T> delete, Action<T> insert)
    {
        foreach (var gone in (before ?? []).Except(after))
        {
            delete(gone);
        }

        foreach (var added in after.Except(before ?? []))
        {
            insert(added);
        }
    }

    private static ILookup<string, T> Parts<T>(SqliteConnection connection, Func<SqliteDataReader, T> part, string sql) =>
        connection.Rows(row => (Batch: row.GetString(0), Part: part(row)), sql)
            .ToLookup(row => row.Batch, row => row.Part, StringComparer.Ordinal);

    // The one empty list, so that batches without are equal.
    private static T[] Of<T>(ILookup<string, T> parts, SqliteDataReader row) =>
        parts.Contains(row.GetString(0)) ? [.. parts[row.GetString(0)]] : [];

    private static Batch ToBatch(SqliteDataReader row) => new(
        new(row.GetString(0)),
        new CropId(row.GetString(1)),
        row.Text(2) is { } lot ? new LotId(lot) : null,
        row.Word<SowingMethod>(3),
        row.Moment(4),
        row.Count(5),
        [],
        [],
        row.MaybeMoment(9))
    {
        Containers = row.Count(6),
        IsTest = row.GetBoolean(7),
        Treatment = row.Text(8),
        PlantOut = row.Text(10) is { } day ? LocalDatePattern.Iso.Parse(day).Value : null,
        DepthMillimetres = row.IsDBNull(11) ? null : row.GetDouble(11),
    };
}

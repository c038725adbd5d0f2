using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Records;

/// <summary>Between batches and the tables they are kept in.</summary>
internal static class BatchRows
{
    public static Batch? Find(SqliteConnection connection, BatchId id) => Load(connection, "WHERE batch.id = ?1", id.Text).FirstOrDefault();

    public static List<Batch> Load(SqliteConnection connection, string where, params ReadOnlySpan<object?> values)
    {
        var chosen = $"SELECT id FROM batch {where}";
        var stays = Parts(connection, row => new Stay(new(row.GetString(1)), row.Stretch(2, 3)),
            $"SELECT batch, spot, start, end FROM stay WHERE batch IN ({chosen}) ORDER BY start", values);
        var looks = Parts(connection, row => new Look(row.Moment(1), row.Count(2), row.Text(3)),
            $"SELECT batch, at, up, note FROM look WHERE batch IN ({chosen}) ORDER BY at", values);
        var stages = Parts(connection, row => new Stage(row.Word<StageKind>(1), row.Moment(2), row.MaybeCount(3), row.Text(4)),
            $"SELECT batch, kind, at, plants, note FROM stage WHERE batch IN ({chosen}) ORDER BY at, number", values);
        var losses = Parts(connection, row => new Loss(row.Moment(1), row.Count(2), row.Word<LossCause>(3), row.Text(4)),
            $"SELECT batch, at, plants, cause, note FROM loss WHERE batch IN ({chosen}) ORDER BY at, number", values);
        return connection.Rows(
            row => ToBatch(row) with
            {
                Stays = [.. stays[row.GetString(0)]],
                Looks = [.. looks[row.GetString(0)]],
                Stages = [.. stages[row.GetString(0)]],
                Losses = [.. losses[row.GetString(0)]],
            },
            $"SELECT id, crop, lot, method, sown_at, seeds, containers, is_test, treatment, ended_at FROM batch {where} "
                + $"ORDER BY sown_at, id",
            values);
    }

    public static void Insert(SqliteConnection connection, Batch batch) => connection.Execute(
        "INSERT INTO batch (id, crop, lot, method, sown_at, seeds, containers, is_test, treatment, ended_at) VALUES (?1, ?2, ?3, ?4, ?5, "
            + "?6, ?7, ?8, ?9, ?10)",
        batch.Id.Text, batch.Crop.Text, batch.Lot?.Text, batch.Method.ToString(), batch.SownAt.Milliseconds(), batch.Seeds,
        batch.Containers, batch.IsTest, batch.Treatment, batch.EndedAt.Milliseconds());

    private static ILookup<string, T> Parts<T>(SqliteConnection connection, Func<SqliteDataReader, T> part, string sql,
        ReadOnlySpan<object?> values) =>
        connection.Rows(row => (Batch: row.GetString(0), Part: part(row)), sql, values)
            .ToLookup(row => row.Batch, row => row.Part, StringComparer.Ordinal);

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
    };
}

using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Storage.Files;
using Chamber.Storage.Records;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Facts;

/// <summary>What the facts come to, in tables, so that nobody has to fold them all to read one. Written in one transaction with each
/// fact.</summary>
internal static class Snapshot
{
    public static HomeState Load(SqliteConnection connection, LeftOut leftOut) => HomeState.Of(new HomeParts
    {
        Spots = SetUpRows.Spots(connection, leftOut),
        Probes = SetUpRows.Probes(connection, leftOut),
        Stations = SetUpRows.Stations(connection, leftOut),
        Calibrations = SetUpRows.Calibrations(connection, leftOut),
        SetAside = SetUpRows.SetAside(connection),
        Lots = SeedRows.Lots(connection, leftOut),
        Tests = SeedRows.Tests(connection, leftOut),
        Batches = KeptBatches.Of(leftOut, BatchRows.Load(connection)),
        Crops = Crops(connection),
        Settings = connection.Rows(row => (Name: row.GetString(0), Value: row.GetString(1)),
            "SELECT name, value FROM setting WHERE chosen = 1")
            .ToDictionary(row => row.Name, row => row.Value, StringComparer.Ordinal),
        Work = Work(connection, leftOut),
        Notes = OwnRows.Notes(connection),
        Limits = OwnRows.Limits(connection),
    });

    /// <summary>The home's own crops, by name.</summary>
    public static IReadOnlyList<(CropId Crop, string Json)> Crops(SqliteConnection connection) =>
        connection.Rows(row => (new CropId(row.GetString(0)), row.GetString(1)), "SELECT id, profile FROM crop ORDER BY id");

    /// <summary>Writes what is other than before. Rows that are left out stay, unless what they tell of is written again.</summary>
    public static void Write(SqliteConnection connection, LeftOut leftOut, HomeState before, HomeState after)
    {
        connection.Execute("PRAGMA defer_foreign_keys = ON");

        // What is gone has the names of before, so it goes before anything has another name.
        DeleteParts(connection, leftOut, before, after);
        Names.Write(connection, before.Renamed, after.Renamed);
        WriteWhole(connection, leftOut, before, after);
    }

    /// <summary>The same where everything has its name already.</summary>
    public static void WriteTables(SqliteConnection connection, LeftOut leftOut, HomeState before, HomeState after)
    {
        DeleteParts(connection, leftOut, before, after);
        WriteWhole(connection, leftOut, before, after);
    }

    private static void WriteWhole(SqliteConnection connection, LeftOut leftOut, HomeState before, HomeState after)
    {
        foreach (var spot in after.Spots.Except(before.Spots))
        {
            SetUpRows.Write(connection, leftOut, spot);
        }

        foreach (var probe in after.Probes.Except(before.Probes))
        {
            SetUpRows.Write(connection, leftOut, probe);
        }

        foreach (var lot in after.Lots.Except(before.Lots))
        {
            SeedRows.Write(connection, leftOut, lot);
        }

        foreach (var batch in after.Batches)
        {
            Write(connection, leftOut, before.Batch(batch.Id), batch);
        }

        WriteParts(connection, before, after);
        AlertMarks.Write(connection, before.AlertMarks, after.AlertMarks);
        Delete(connection, before, after);
    }

    private static List<Work> Work(SqliteConnection connection, LeftOut leftOut) => leftOut.Keep(
        connection.Rows(
            row => (Work: new Work(row.Text(0) is { } spot ? new SpotId(spot) : null, row.Stretch(1, 2)), Number: row.GetInt64(3)),
            "SELECT spot, start, end, number FROM maintenance ORDER BY start, number"),
        row => WithinBounds.WhyNot(row.Work.When) ?? Bounds.Maintenance.WhyNot(row.Work.When.Duration),
        row => $"Maintenance {row.Number}").ConvertAll(row => row.Work);

    private static void Write(SqliteConnection connection, LeftOut leftOut, Batch? before, Batch after)
    {
        if (ReferenceEquals(before, after))
        {
            return;
        }

        if (before is null)
        {
            // One that lay beyond bounds counted for nothing: now it is put right.
            connection.Execute("DELETE FROM batch WHERE id = ?1", after.Id.Text);
            leftOut.Forget(KeptBatches.Named(after.Id));
        }

        BatchRows.Write(connection, before, after);
    }

    private static void DeleteParts(SqliteConnection connection, LeftOut leftOut, HomeState before, HomeState after)
    {
        Each(before.Stations, after.Stations, one => SetUpRows.Delete(connection, one));
        Each(before.Calibrations, after.Calibrations, one => SetUpRows.Delete(connection, one));
        Each(before.SetAside, after.SetAside, one => SetUpRows.Delete(connection, one));
        Each(before.Tests, after.Tests, one => SeedRows.Delete(connection, one));
        Each(before.Crops, after.Crops, one =>
        {
            connection.Execute("DELETE FROM crop WHERE id = ?1", one.Crop.Text);
            leftOut.Forget($"Crop {one.Crop}");
        });
        Each([.. before.Settings], [.. after.Settings], one => connection.Execute("DELETE FROM setting WHERE name = ?1", one.Key));
        Each(before.Notes, after.Notes, one => OwnRows.Delete(connection, one));
        Each(before.Limits, after.Limits, one => OwnRows.Delete(connection, one));
        Each(before.Work, after.Work, one => connection.Execute(
            "DELETE FROM maintenance WHERE spot IS ?1 AND start = ?2 AND end = ?3",
            one.Spot?.Text, one.When.Start.Milliseconds(), one.When.End.Milliseconds()));
    }

    private static void WriteParts(SqliteConnection connection, HomeState before, HomeState after)
    {
        Each(after.Stations, before.Stations, one => SetUpRows.Write(connection, one));
        Each(after.Calibrations, before.Calibrations, one => SetUpRows.Write(connection, one));
        Each(after.SetAside, before.SetAside, one => SetUpRows.Write(connection, one));
        Each(after.Tests, before.Tests, one => SeedRows.Write(connection, one));
        Each(after.Crops, before.Crops, one =>
            connection.Execute("INSERT INTO crop (id, profile) VALUES (?1, ?2)", one.Crop.Text, one.Json));
        Each([.. after.Settings], [.. before.Settings], one =>
            connection.Execute("INSERT OR REPLACE INTO setting (name, value, chosen) VALUES (?1, ?2, 1)", one.Key, one.Value));
        Each(after.Notes, before.Notes, one => OwnRows.Write(connection, one));
        Each(after.Limits, before.Limits, one => OwnRows.Write(connection, one));
        Each(after.Work, before.Work, one => connection.Execute(
            "INSERT INTO maintenance (spot, start, end) VALUES (?1, ?2, ?3)",
            one.Spot?.Text, one.When.Start.Milliseconds(), one.When.End.Milliseconds()));
    }

    private static void Delete(SqliteConnection connection, HomeState before, HomeState after)
    {
        foreach (var gone in before.Batches.Where(batch => after.Batch(batch.Id) is null))
        {
            connection.Execute("DELETE FROM batch WHERE id = ?1", gone.Id.Text);
        }

        foreach (var gone in before.Lots.Where(lot => after.Lot(lot.Id) is null))
        {
            connection.Execute("DELETE FROM lot WHERE id = ?1", gone.Id.Text);
        }

        foreach (var gone in before.Probes.Where(entry => after.Probe(entry.Probe.Id) is null))
        {
            SetUpRows.TakeDown(connection, gone.Probe.Id);
        }

        foreach (var gone in before.Spots.Where(spot => after.Spot(spot.Id) is null))
        {
            connection.Execute("DELETE FROM spot WHERE id = ?1", gone.Id.Text);
        }
    }

    // What is here and not there.
    private static void Each<T>(IReadOnlyList<T> here, IReadOnlyList<T> there, Action<T> act)
    {
        foreach (var one in here.Except(there))
        {
            act(one);
        }
    }
}

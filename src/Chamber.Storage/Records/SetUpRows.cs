using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Storage.Files;
using Chamber.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Records;

/// <summary>Between probes, spots, stays and calibrations and the tables they are kept in.</summary>
internal static class SetUpRows
{
    /// <summary>More, ms, is beyond every bound; a duration of it can still be made.</summary>
    private const long GapReadMax = long.MaxValue / 1_000_000;

    public static List<Spot> Spots(SqliteConnection connection, LeftOut leftOut) =>
        connection.Rows(ToSpot, "SELECT id, kind, light, room FROM spot ORDER BY id").ConvertAll(spot => WithRoom(leftOut, spot));

    public static List<ProbeEntry> Probes(SqliteConnection connection, LeftOut leftOut) =>
        connection.Rows(ToProbe, "SELECT id, measurand, max_gap_ms, hand_read, note FROM probe WHERE measurand IS NOT NULL ORDER BY id")
            .ConvertAll(entry => WithGap(leftOut, entry));

    public static List<Station> Stations(SqliteConnection connection, LeftOut leftOut) => leftOut.Keep(
        connection.Rows(
            row => new Station(new(row.GetString(0)), new(row.GetString(1)), row.Stretch(2, 3)),
            "SELECT probe.id, spot, start, end FROM station JOIN probe ON probe.key = station.probe ORDER BY start, probe.id"),
        station => WithinBounds.WhyNot(station.When),
        station => $"A stay of probe {station.Probe} on {station.Spot}");

    public static List<Calibration> Calibrations(SqliteConnection connection, LeftOut leftOut) => leftOut.Keep(
        connection.Rows(
            ToCalibration,
            """
            SELECT probe.id, start, offset, dry, saturated, calibration.note, uncertainty, humidity
            FROM calibration JOIN probe ON probe.key = calibration.probe ORDER BY start, probe.id
            """),
        WithinBounds.WhyNot,
        calibration => $"A calibration of probe {calibration.Probe}");

    public static List<SetAside> SetAside(SqliteConnection connection) => connection.Rows(
        row => new SetAside(new(row.GetString(0)), row.Stretch(1, 2), row.Text(3)),
        "SELECT probe.id, start, end, why FROM set_aside JOIN probe ON probe.key = set_aside.probe ORDER BY start, probe.id");

    public static void Write(SqliteConnection connection, LeftOut leftOut, Spot spot)
    {
        connection.Execute(
            """
            INSERT INTO spot (id, kind, light, room) VALUES (?1, ?2, ?3, ?4)
            ON CONFLICT DO UPDATE SET kind = excluded.kind, light = excluded.light, room = excluded.room
            """,
            spot.Id.Text, spot.Kind.ToString(), spot.Light.ToString(), spot.Room);
        leftOut.Forget(RoomOf(spot));
    }

    public static void Write(SqliteConnection connection, LeftOut leftOut, ProbeEntry entry)
    {
        connection.Execute(
            """
            INSERT INTO probe (id, measurand, max_gap_ms, hand_read, note) VALUES (?1, ?2, ?3, ?4, ?5)
            ON CONFLICT (id) DO UPDATE SET measurand = excluded.measurand, max_gap_ms = excluded.max_gap_ms, hand_read = excluded.hand_read,
              note = excluded.note
            """,
            entry.Probe.Id.Text, entry.Probe.Measurand.ToString(), (long)entry.Probe.MaxGap.TotalMilliseconds, entry.HandRead, entry.Note);
        leftOut.Forget(GapOf(entry));
    }

    /// <summary>A probe that is no longer set up: its number stays, since its readings have it.</summary>
    public static void TakeDown(SqliteConnection connection, ProbeId probe) => connection.Execute(
        "UPDATE probe SET measurand = NULL, max_gap_ms = NULL, hand_read = 0, note = NULL WHERE id = ?1", probe.Text);

    public static void Write(SqliteConnection connection, Station station) => connection.Execute(
        "INSERT INTO station (probe, start, spot, end) VALUES (?1, ?2, ?3, ?4)",
        Key(connection, station.Probe), station.When.Start.Milliseconds(), station.Spot.Text,
        station.When.HasEnd ? station.When.End.Milliseconds() : null);

    public static void Delete(SqliteConnection connection, Station station) => connection.Execute(
        "DELETE FROM station WHERE probe = ?1 AND start = ?2", Key(connection, station.Probe), station.When.Start.Milliseconds());

    public static void Write(SqliteConnection connection, Calibration calibration) => connection.Execute(
        """
        INSERT OR REPLACE INTO calibration (probe, start, offset, dry, saturated, note, uncertainty, humidity)
        VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
        """,
        Key(connection, calibration.Probe), calibration.From.Milliseconds(), calibration.Offset.Kelvins, calibration.DryRaw,
        calibration.SaturatedRaw, calibration.Note, calibration.Uncertainty?.Kelvins, calibration.HumidityPoints);

    public static void Delete(SqliteConnection connection, Calibration calibration) => connection.Execute(
        "DELETE FROM calibration WHERE probe = ?1 AND start = ?2", Key(connection, calibration.Probe), calibration.From.Milliseconds());

    public static void Write(SqliteConnection connection, SetAside span) => connection.Execute(
        "INSERT OR IGNORE INTO set_aside (probe, start, end, why) VALUES (?1, ?2, ?3, ?4)",
        Key(connection, span.Probe), span.When.Start.Milliseconds(), span.When.End.Milliseconds(), span.Why);

    public static void Delete(SqliteConnection connection, SetAside span) => connection.Execute(
        "DELETE FROM set_aside WHERE probe = ?1 AND start = ?2 AND end = ?3",
        Key(connection, span.Probe), span.When.Start.Milliseconds(), span.When.End.Milliseconds());

    /// <summary>Gives a probe another name; what still arrives under the former one is its own.</summary>
    public static void Rename(SqliteConnection connection, string from, string to)
    {
        connection.Execute("DELETE FROM former_probe WHERE id = ?1", to);
        if (connection.Whole("SELECT count(*) FROM probe WHERE id = ?1", to) > 0)
        {
            throw new FactRefusedException(new($"There is a probe \"{to}\" already; take another name."), "to");
        }

        connection.Execute("UPDATE probe SET id = ?2 WHERE id = ?1", from, to);
        connection.Execute("INSERT OR REPLACE INTO former_probe (id, probe) SELECT ?1, key FROM probe WHERE id = ?2", from, to);
    }

    /// <summary>Takes a new name of a probe back.</summary>
    public static void RenameBack(SqliteConnection connection, string from, string to)
    {
        connection.Execute("DELETE FROM former_probe WHERE id = ?1", from);
        connection.Execute("UPDATE probe SET id = ?1 WHERE id = ?2", from, to);
    }

    private static long Key(SqliteConnection connection, ProbeId probe) => ProbeKeys.Find(connection, probe) ?? 0;

    private static Spot ToSpot(SqliteDataReader row) =>
        new(new(row.GetString(0)), row.Word<SpotKind>(1), row.Word<LightLevel>(2), row.Count(3));

    // A spot whose room cannot be is still a spot: only the number is left out.
    private static Spot WithRoom(LeftOut leftOut, Spot spot) =>
        leftOut.Keeps(WithinBounds.WhyNot(spot), () => RoomOf(spot)) ? spot : spot with { Room = 1 };

    private static string RoomOf(Spot spot) => $"The room of spot {spot.Id}";

    private static ProbeEntry WithGap(LeftOut leftOut, ProbeEntry entry) => leftOut.Keeps(WithinBounds.WhyNot(entry.Probe), () =>
        GapOf(entry))
        ? entry
        : entry with { Probe = entry.Probe with { MaxGap = Core.Climate.Probe.DefaultMaxGap } };

    private static string GapOf(ProbeEntry entry) => $"The longest silence of probe {entry.Probe.Id}";

    private static ProbeEntry ToProbe(SqliteDataReader row) => new(
        new(new(row.GetString(0)), row.Word<Measurand>(1), Duration.FromMilliseconds(Math.Clamp(row.GetInt64(2), 0, GapReadMax))),
        row.GetBoolean(3),
        row.Text(4));

    private static Calibration ToCalibration(SqliteDataReader row) => new(
        new(row.GetString(0)), row.Moment(1), TemperatureDifference.FromKelvins(row.GetDouble(2)), row.Real(3), row.Real(4), row.Text(5))
    {
        Uncertainty = row.Real(6) is { } kelvins ? TemperatureDifference.FromKelvins(kelvins) : null,
        HumidityPoints = row.Real(7),
    };
}

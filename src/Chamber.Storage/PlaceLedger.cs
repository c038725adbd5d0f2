using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Storage.Files;
using Chamber.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage;

/// <summary>A probe that somebody has set up.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="HandRead">Somebody reads it: its silence is nobody's fault.</param>
/// <param name="Note">What else is known, or null.</param>
public sealed record ProbeEntry(Probe Probe, bool HandRead = false, string? Note = null);

/// <summary>Probes, spots, and which probe was on which spot when.</summary>
public sealed class PlaceLedger
{
    /// <summary>More, ms, is beyond every bound; a duration of it can still be made.</summary>
    private const long GapReadMax = long.MaxValue / 1_000_000;

    private readonly Database database;

    internal PlaceLedger(Database database) => this.database = database;

    /// <summary>Every spot, by name.</summary>
    public IReadOnlyList<Spot> Spots() =>
        database.Read(connection => connection.Rows(ToSpot, "SELECT id, kind, light, room FROM spot ORDER BY id").ConvertAll(WithRoom));

    public Spot? Spot(SpotId id) => database.Read(connection =>
        connection.Rows(ToSpot, "SELECT id, kind, light, room FROM spot WHERE id = ?1", id.Text).ConvertAll(WithRoom).FirstOrDefault());

    /// <summary>Adds a spot, or changes the one with this name.</summary>
    public void Save(Spot spot) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(WithinBounds.WhyNot(spot));
        connection.Execute(
            "INSERT INTO spot (id, kind, light, room) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO UPDATE SET kind = excluded.kind, light = excluded.light, room = excluded.room",
            spot.Id.Text, spot.Kind.ToString(), spot.Light.ToString(), spot.Room);
        database.LeftOut.Forget(RoomOf(spot));
    });

    /// <summary>Takes away a spot that nothing has ever stood on.</summary>
    public void Remove(SpotId spot) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(
            connection.Whole("SELECT EXISTS (SELECT 1 FROM station WHERE spot = ?1) OR EXISTS (SELECT 1 FROM stay WHERE spot = ?1)",
                spot.Text) != 0,
            $"Probes or batches have stood on \"{spot}\", and their history needs it; it stays.");
        LedgerRefusedException.When(connection.Execute("DELETE FROM spot WHERE id = ?1", spot.Text) == 0, Unknown(spot));
    });

    /// <summary>Every probe that was set up, by name. <see cref="Journal.Probes"/> also knows those that only spoke.</summary>
    public IReadOnlyList<ProbeEntry> Probes() => database.Read(connection =>
        connection.Rows(ToProbe, "SELECT id, measurand, max_gap_ms, hand_read, note FROM probe WHERE measurand IS NOT NULL ORDER BY id")
            .ConvertAll(WithGap));

    public ProbeEntry? Probe(ProbeId id) => database.Read(connection =>
        connection.Rows(ToProbe, "SELECT id, measurand, max_gap_ms, hand_read, note FROM probe WHERE measurand IS NOT NULL AND id = ?1",
            id.Text).ConvertAll(WithGap).FirstOrDefault());

    /// <summary>Sets up a probe, or changes the one with this name.</summary>
    public void Save(ProbeEntry entry) => database.WriteDown(connection =>
    {
        var gap = (long)entry.Probe.MaxGap.TotalMilliseconds;
        LedgerRefusedException.When(WithinBounds.WhyNot(entry.Probe));
        connection.Execute(
            """
            INSERT INTO probe (id, measurand, max_gap_ms, hand_read, note) VALUES (?1, ?2, ?3, ?4, ?5)
            ON CONFLICT (id) DO UPDATE SET measurand = excluded.measurand, max_gap_ms = excluded.max_gap_ms, hand_read = excluded.hand_read, note = excluded.note
            """,
            entry.Probe.Id.Text, entry.Probe.Measurand.ToString(), gap, entry.HandRead, entry.Note);
        database.LeftOut.Forget(GapOf(entry));
    });

    /// <summary>Every stay of a probe on a spot, in order of time.</summary>
    public IReadOnlyList<Station> Stations() => database.Read(connection => database.LeftOut.Keep(
        connection.Rows(ToStation,
            "SELECT probe.id, spot, start, end FROM station JOIN probe ON probe.key = station.probe ORDER BY start, probe.id"),
        station => WithinBounds.WhyNot(station.When),
        station => $"A stay of probe {station.Probe} on {station.Spot}"));

    /// <summary>
    /// Puts a probe on a spot from a time on. Where it stood before ends then. At a time before it stood anywhere it is there until
    /// it is known to have stood elsewhere; where that is the same spot, it was there since then.
    /// </summary>
    public void Put(ProbeId probe, SpotId spot, Instant at) => database.WriteDown(connection =>
    {
        var key = Require(connection, probe);
        Require(connection, spot);
        var next = connection.Rows(row => (Spot: row.GetString(0), When: row.Stretch(1, 2)),
            "SELECT spot, start, end FROM station WHERE probe = ?1 AND start >= ?2 ORDER BY start LIMIT 1", key, at.Milliseconds());
        Instant? until = null;
        if (next is [var later] && later.Spot == spot.Text)
        {
            connection.Execute("DELETE FROM station WHERE probe = ?1 AND start = ?2", key, later.When.Start.Milliseconds());
            until = later.When.HasEnd ? later.When.End : null;
        }
        else if (next is [var other] && other.When.Start > at)
        {
            until = other.When.Start;
        }
        else
        {
            EndOpen(connection, key, probe, at);
        }

        Add(connection, key, new(probe, spot, new(at, until)));
    });

    /// <summary>Takes a probe away from where it is.</summary>
    public void Lift(ProbeId probe, Instant at) => database.WriteDown(connection =>
        LedgerRefusedException.When(!EndOpen(connection, Require(connection, probe), probe, at), $"Probe \"{probe}\" stands nowhere."));

    /// <summary>Records where a probe stood, after the fact.</summary>
    public void Record(Station station) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(!station.When.HasStart, "A station needs a start.");
        Require(connection, station.Spot);
        Add(connection, Require(connection, station.Probe), station);
    });

    /// <summary>Takes a station out of the record: it was a mistake.</summary>
    public void Remove(Station station) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute("DELETE FROM station WHERE probe = ?1 AND start = ?2", Require(connection, station.Probe),
            station.When.Start.Milliseconds()) == 0,
        () => new($"Probe \"{station.Probe}\" has no station that starts at {station.When.Start}.")));

    /// <summary>Every calibration, in order of time.</summary>
    public IReadOnlyList<Calibration> Calibrations() =>
        database.Read(connection => database.LeftOut.Keep(AllCalibrations(connection), WhyNot,
        calibration => $"A calibration of probe {calibration.Probe}"));

    private static List<Calibration> AllCalibrations(SqliteConnection connection) => connection.Rows(
        row => new Calibration(new(row.GetString(0)), row.Moment(1), TemperatureDifference.FromKelvins(row.GetDouble(2)), row.Real(3),
            row.Real(4), row.Text(5))
        {
            Uncertainty = row.Real(6) is { } kelvins ? TemperatureDifference.FromKelvins(kelvins) : null,
            HumidityPoints = row.Real(7),
        },
        "SELECT probe.id, start, offset, dry, saturated, calibration.note, uncertainty, humidity FROM calibration JOIN probe ON probe.key = calibration.probe ORDER BY start, probe.id");

    private static string? WhyNot(Calibration calibration) =>
        Bounds.OffsetKelvins.WhyNot(calibration.Offset.Kelvins)
        ?? (calibration.HumidityPoints is { } points ? Bounds.HumidityPoints.WhyNot(points) : null)
        ?? (calibration.DryRaw is { } dry ? Bounds.RawMoisture.WhyNot(dry) : null)
        ?? (calibration.SaturatedRaw is { } saturated ? Bounds.RawMoisture.WhyNot(saturated) : null)
        ?? WithinBounds.WhyNot(calibration.From)
        ?? Bounds.Note.WhyNot(calibration.Note);

    /// <summary>Records a calibration; one of the same time replaces it.</summary>
    public void Save(Calibration calibration) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(WhyNot(calibration));
        LedgerRefusedException.When(
            calibration.DryRaw is { } dry && calibration.SaturatedRaw is { } saturated && dry.Equals(saturated),
            "The dry and the saturated reading are the same, so nothing can be told from them; take one in dry mix and one in soaked mix.");
        connection.Execute(
            "INSERT OR REPLACE INTO calibration (probe, start, offset, dry, saturated, note, uncertainty, humidity) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            Require(connection, calibration.Probe), calibration.From.Milliseconds(), calibration.Offset.Kelvins, calibration.DryRaw,
                calibration.SaturatedRaw, calibration.Note,
            calibration.Uncertainty?.Kelvins, calibration.HumidityPoints);
    });

    /// <summary>Takes a calibration back.</summary>
    public void Remove(Calibration calibration) => database.WriteDown(connection => LedgerRefusedException.When(
        connection.Execute("DELETE FROM calibration WHERE probe = ?1 AND start = ?2", Require(connection, calibration.Probe),
            calibration.From.Milliseconds()) == 0,
        () => new($"Probe \"{calibration.Probe}\" has no calibration of {calibration.From}.")));

    internal static void Require(SqliteConnection connection, SpotId spot) =>
        LedgerRefusedException.When(connection.Whole("SELECT count(*) FROM spot WHERE id = ?1", spot.Text) == 0, Unknown(spot));

    private static long Require(SqliteConnection connection, ProbeId probe) =>
        ProbeKeys.Find(connection, probe)
            ?? throw new LedgerRefusedException($"There is no probe \"{probe}\"; set it up first, or let it speak once.");

    private static string Unknown(SpotId spot) => $"There is no spot \"{spot}\"; set it up first.";

    private static bool EndOpen(SqliteConnection connection, long key, ProbeId probe, Instant at)
    {
        if (connection.Rows(row => row.Moment(0), "SELECT start FROM station WHERE probe = ?1 AND end IS NULL", key) is not [var start])
        {
            return false;
        }

        LedgerRefusedException.When(at <= start, () => new($"Probe \"{probe}\" was put there at {start}; it can only leave after that."));
        connection.Execute("UPDATE station SET end = ?2 WHERE probe = ?1 AND end IS NULL", key, at.Milliseconds());
        return true;
    }

    private static void Add(SqliteConnection connection, long key, Station station)
    {
        long? end = station.When.HasEnd ? station.When.End.Milliseconds() : null;
        var other = connection.Rows(
            row => (Spot: row.GetString(0), Start: row.Moment(1)),
            "SELECT spot, start FROM station WHERE probe = ?1 AND start < coalesce(?3, 9e18) AND coalesce(end, 9e18) > ?2",
            key, station.When.Start.Milliseconds(), end);
        LedgerRefusedException.When(
            other.Count > 0,
            () => new($"Probe \"{station.Probe}\" stood on \"{other[0].Spot}\" then (from {other[0].Start}); a probe is on one spot at a time."));
        connection.Execute("INSERT INTO station (probe, start, spot, end) VALUES (?1, ?2, ?3, ?4)", key, station.When.Start.Milliseconds(),
            station.Spot.Text, end);
    }

    private static Spot ToSpot(SqliteDataReader row) =>
        new(new(row.GetString(0)), row.Word<SpotKind>(1), row.Word<LightLevel>(2), row.Count(3));

    // A spot whose room cannot be is still a spot: only the number is left out.
    private Spot WithRoom(Spot spot) =>
        database.LeftOut.Keeps(WithinBounds.WhyNot(spot), () => RoomOf(spot)) ? spot : spot with { Room = 1 };

    private static string RoomOf(Spot spot) => $"The room of spot {spot.Id}";

    private ProbeEntry WithGap(ProbeEntry entry) =>
        database.LeftOut.Keeps(WithinBounds.WhyNot(entry.Probe), () => GapOf(entry)) ? entry
            : entry with { Probe = entry.Probe with { MaxGap = Core.Climate.Probe.DefaultMaxGap } };

    private static string GapOf(ProbeEntry entry) => $"The longest silence of probe {entry.Probe.Id}";

    private static ProbeEntry ToProbe(SqliteDataReader row) => new(
        new(new(row.GetString(0)), row.Word<Measurand>(1), Duration.FromMilliseconds(Math.Clamp(row.GetInt64(2), 0, GapReadMax))),
            row.GetBoolean(3), row.Text(4));

    private static Station ToStation(SqliteDataReader row) => new(new(row.GetString(0)), new(row.GetString(1)), row.Stretch(2, 3));
}

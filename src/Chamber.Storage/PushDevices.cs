using Chamber.Storage.Files;
using NodaTime;

namespace Chamber.Storage;

/// <summary>A browser that asked for notices (Push API, PushSubscription.toJSON).</summary>
/// <param name="Endpoint">Where its push service listens; names the device.</param>
/// <param name="PublicKey">Its public key (p256dh), base64url.</param>
/// <param name="Secret">Its authentication secret, base64url.</param>
/// <param name="Note">Whose it is, or null.</param>
/// <param name="AddedAt">When it asked.</param>
public sealed record PushDevice(string Endpoint, string PublicKey, string Secret, string? Note, Instant AddedAt);

/// <summary>The browsers that asked for notices. Bounded: see <see cref="DevicesMax"/>.</summary>
public sealed class PushDevices
{
    /// <summary>So many may ask; a further one is refused.</summary>
    public const int DevicesMax = 20;

    private readonly Database database;

    internal PushDevices(Database database) => this.database = database;

    /// <summary>All of them, the first to ask first.</summary>
    public IReadOnlyList<PushDevice> All() => database.Read(connection => connection.Rows(
        row => new PushDevice(row.GetString(0), row.GetString(1), row.GetString(2), row.Text(3), row.Moment(4)),
        "SELECT endpoint, public_key, secret, note, added_at FROM push_device ORDER BY added_at, endpoint"));

    /// <summary>Adds a device; one of the same endpoint is replaced, as when a browser renews its keys.</summary>
    public void Save(PushDevice device) => database.WriteDown(connection =>
    {
        LedgerRefusedException.When(
            connection.Whole("SELECT count(*) FROM push_device WHERE endpoint <> ?1", device.Endpoint) >= DevicesMax,
            $"There are {DevicesMax} browsers already; take one away first.");
        connection.Execute(
            "INSERT OR REPLACE INTO push_device (endpoint, public_key, secret, note, added_at) VALUES (?1, ?2, ?3, ?4, ?5)",
            device.Endpoint, device.PublicKey, device.Secret, device.Note, device.AddedAt.Milliseconds());
    });

    /// <summary>Takes a device away.</summary>
    /// <returns>Whether there was one.</returns>
    public bool Remove(string endpoint) =>
        database.WriteDown(connection => connection.Execute("DELETE FROM push_device WHERE endpoint = ?1", endpoint)) > 0;
}

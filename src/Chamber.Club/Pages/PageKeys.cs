using System.Xml.Linq;
using Chamber.Club.Store;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Npgsql;

namespace Chamber.Club.Pages;

/// <summary>The keys that seal cookies, in the club's database: every process that serves pages has the same, and a restart signs nobody
/// out.</summary>
internal sealed class PageKeys(ClubDatabase club) : IXmlRepository
{
    // The web server asks for them without waiting, seldom: at its start, and when a key grows old.
    public IReadOnlyCollection<XElement> GetAllElements() => AtDoor("SELECT body FROM page_key ORDER BY name", command =>
    {
        var keys = new List<XElement>();
        using var rows = command.ExecuteReader();
        while (rows.Read())
        {
            keys.Add(XElement.Parse(rows.GetString(0)));
        }

        return keys;
    });

    public void StoreElement(XElement element, string friendlyName) =>
        AtDoor("INSERT INTO page_key (name, body) VALUES ($1, $2) ON CONFLICT (name) DO NOTHING", command =>
        {
            command.Parameters.Add(new() { Value = friendlyName });
            command.Parameters.Add(new() { Value = element.ToString(SaveOptions.DisableFormatting) });
            return command.ExecuteNonQuery();
        });

    private T AtDoor<T>(string sql, Func<NpgsqlCommand, T> act)
    {
        using var connection = club.Connect();
        using var transaction = connection.BeginTransaction();
        using (var role = new NpgsqlCommand("SELECT set_config('role', $1, true)", connection, transaction))
        {
            role.Parameters.Add(new() { Value = HomeSession.DoorRole });
            role.ExecuteNonQuery();
        }

        using var command = new NpgsqlCommand(sql, connection, transaction);
        var result = act(command);
        transaction.Commit();
        return result;
    }
}

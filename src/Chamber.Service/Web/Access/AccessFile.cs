using System.Text.Json;
using Chamber.Service.Configuration;

namespace Chamber.Service.Web.Access;

/// <summary>Somebody who may sign in.</summary>
/// <param name="Name">As typed; compared without regard to case.</param>
/// <param name="PasswordHash">PBKDF2 with HMAC-SHA512, salted (the format of ASP.NET Core Identity, version 3).</param>
/// <param name="Stamp">Changes with the password, which ends every session that was opened before.</param>
internal sealed record Person(string Name, string PasswordHash, string Stamp);

/// <summary>A link that lets whoever holds it look and change nothing.</summary>
/// <param name="Id">Short, for the list from which it is taken back.</param>
/// <param name="TokenHash">SHA-256 of the token, base 64; the token itself is only ever shown once.</param>
/// <param name="For">Whom it was made for, in the owner's words.</param>
/// <param name="CreatedAt">When it was made.</param>
internal sealed record GuestLink(string Id, string TokenHash, string For, DateTimeOffset CreatedAt);

/// <summary>Who may use the page.</summary>
internal sealed record AccessList(IReadOnlyList<Person> People, IReadOnlyList<GuestLink> Guests)
{
    public static AccessList Empty { get; } = new([], []);
}

/// <summary>
/// The file <c>access.json</c> in the data directory. It stands beside the database and not in it, so that a backup of the
/// growing records can be handed to somebody without handing over who may sign in.
/// </summary>
internal sealed class AccessFile(string path)
{
    private static readonly JsonSerializerOptions Format = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    private readonly Lock gate = new();
    private AccessList? list;

    public AccessList Current
    {
        get
        {
            lock (gate)
            {
                return list ??= Load();
            }
        }
    }

    /// <summary>Replaces the list on disk as a whole, or not at all.</summary>
    public void Change(Func<AccessList, AccessList> change)
    {
        lock (gate)
        {
            var changed = change(list ?? Load());
            Save(changed);
            list = changed;
        }
    }

    private AccessList Load()
    {
        if (!File.Exists(path))
        {
            return AccessList.Empty;
        }

        try
        {
            using var stream = File.OpenRead(path);
            return JsonSerializer.Deserialize<AccessList>(stream, Format) ?? AccessList.Empty;
        }
        catch (JsonException exception)
        {
            throw new InvalidDataException(
                $"{path} is not readable ({exception.Message}). Put back a good copy, or delete it and sign up again with the one-time code.", exception);
        }
    }

    private void Save(AccessList changed) => WholeFile.Write(path, JsonSerializer.Serialize(changed, Format), ownerOnly: true);
}

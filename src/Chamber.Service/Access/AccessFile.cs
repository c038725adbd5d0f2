using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Service.Configuration;

namespace Chamber.Service.Access;

/// <summary>Somebody who may sign in.</summary>
/// <param name="Name">As typed; compared without regard to case.</param>
/// <param name="PasswordHash">PBKDF2 with HMAC-SHA512, salted (the format of ASP.NET Core Identity, version 3).</param>
/// <param name="Stamp">Changes with the password, which ends every session that was opened before.</param>
internal sealed record Person(string Name, string PasswordHash, string Stamp);

/// <summary>A link that lets whoever holds it look and change nothing.</summary>
/// <param name="Id">Short, for the list from which it is revoked.</param>
/// <param name="TokenHash">SHA-256 of the token, base 64; the token itself is only ever shown once.</param>
/// <param name="For">Whom it was made for, in the owner's words.</param>
/// <param name="CreatedAt">When it was made.</param>
internal sealed record GuestLink(string Id, string TokenHash, string For, DateTimeOffset CreatedAt);

/// <summary>What a program may do.</summary>
internal enum ProgramMay
{
    /// <summary>See what a guest sees.</summary>
    Read,

    /// <summary>Change what a person may change, but let nobody in.</summary>
    Write,
}

/// <summary>What a program shows instead of a password.</summary>
/// <param name="Id">Short, for the list from which it is revoked.</param>
/// <param name="TokenHash">SHA-256 of the token, base 64; the token itself is only ever shown once.</param>
/// <param name="For">Which program, in the owner's words.</param>
/// <param name="May">What it may do.</param>
/// <param name="CreatedAt">When it was made.</param>
internal sealed record ProgramToken(string Id, string TokenHash, string For, ProgramMay May, DateTimeOffset CreatedAt);

/// <summary>A session that somebody signed out of before its cookie was dead.</summary>
/// <param name="Session">Its number.</param>
/// <param name="At">When they signed out.</param>
internal sealed record EndedSession(string Session, DateTimeOffset At);

/// <summary>Who may use the page and the API.</summary>
internal sealed record AccessList(IReadOnlyList<Person> People, IReadOnlyList<GuestLink> Guests)
{
    public static AccessList Empty { get; } = new([], []);

    public IReadOnlyList<ProgramToken> Programs { get; init; } = [];

    public IReadOnlyList<EndedSession> Ended { get; init; } = [];
}

/// <summary>
/// The file <c>page-access.json</c> in the data directory. It stands beside the database and not in it, so that a backup of the
/// growing records can be handed to somebody without handing over who may sign in. The service and the command line both
/// change it: it is read again when it has changed, and one at a time may change it.
/// </summary>
internal sealed class AccessFile(string path)
{
    private static readonly JsonSerializerOptions Format =
        new(JsonSerializerDefaults.Web) { WriteIndented = true, Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) } };

    private readonly Lock gate = new();
    private (AccessList List, DateTime WrittenAt, long Length)? known;

    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public AccessList Current
    {
        get
        {
            lock (gate)
            {
                var file = new FileInfo(path);
                var (written, length) = file.Exists ? (file.LastWriteTimeUtc, file.Length) : default;
                if (known is not { } last || last.WrittenAt != written || last.Length != length)
                {
                    known = last = (Load(), written, length);
                }

                return last.List;
            }
        }
    }

    /// <summary>Replaces the list on disk as a whole, or not at all.</summary>
    /// <exception cref="BadInputException">Another Chamber changes it at this moment, or it cannot be written; nothing was
    /// changed.</exception>
    public void Change(Func<AccessList, AccessList> change)
    {
        lock (gate)
        {
            try
            {
                using var alone = new FileStream(path + ".lock", FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1,
                    FileOptions.DeleteOnClose);
                WholeFile.Write(path, JsonSerializer.Serialize(change(Load()), Format), ownerOnly: true);
            }
            catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
            {
                throw new BadInputException($"{path} was not changed: {problem.Message} Try again.", problem);
            }

            known = null;
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
                $"{path} is not readable ({exception.Message}). Put back a good copy, or delete it and sign up again with the one-time "
                    + $"code.", exception);
        }
    }
}

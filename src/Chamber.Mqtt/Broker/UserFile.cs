using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// The users of the built-in broker, one a line: name, iterations, salt, hash, and the topics that it may write and read, parted by colons.
/// The hash is PBKDF2 with HMAC-SHA-512 (RFC 8018, Moriarty, Kaliski &amp; Rusch 2017, section 5.2); a password itself is never recorded.
/// A line that ends with the hash is from before there were rights: that user may write and read everything.
/// </summary>
public sealed class UserFile
{
    // The advice of the OWASP Password Storage Cheat Sheet (2023) for this hash; from memory.
    private const int Iterations = 210_000;
    private const int SaltLength = 16;
    private const int HashLength = 32;
    private const int PasswordLengthMin = 8;

    private readonly string path;
    private readonly Lock gate = new();
    private (Dictionary<string, AccountRights> Rights, DateTime WrittenAt, long Length)? known;

    /// <param name="path">The file; it need not exist yet, and then nobody is let in.</param>
    public UserFile(string path) => this.path = path;

    /// <summary>Adds a user or gives them a new password. The file can be read by its owner only, and is replaced as a whole.</summary>
    /// <param name="user">The name.</param>
    /// <param name="password">The password.</param>
    /// <param name="rights">What it may write and read; null for what a sensor needs, the topics of the probe that has its name.</param>
    /// <exception cref="FormatException">The name, the password or a topic cannot be used; the message says why.</exception>
    public void Set(string user, string password, AccountRights? rights = null)
    {
        ArgumentNullException.ThrowIfNull(password);
        Core.Identifier.Require(user, "user");
        if (password.Length < PasswordLengthMin)
        {
            throw new FormatException($"A password has at least {PasswordLengthMin} characters.");
        }

        if (Core.Bounds.Password.WhyNot(password) is not null)
        {
            throw new FormatException($"A password has at most {Core.Bounds.Password.LengthMax} characters.");
        }

        var salt = RandomNumberGenerator.GetBytes(SaltLength);
        var line = string.Join(':', user, Iterations.ToString(CultureInfo.InvariantCulture), Convert.ToBase64String(salt),
            Convert.ToBase64String(Hash(password, salt, Iterations)), Listed((rights ?? AccountRights.OfProbe(user)).Writes),
            Listed((rights ?? AccountRights.OfProbe(user)).Reads));
        Write([.. Lines().Where(other => NameOf(other) != user), line]);
    }

    /// <summary>Removes a user. Answers whether there was one.</summary>
    public bool Remove(string user)
    {
        var lines = Lines();
        string[] kept = [.. lines.Where(line => NameOf(line) != user)];
        if (kept.Length == lines.Length)
        {
            return false;
        }

        Write(kept);
        return true;
    }

    /// <summary>Whether the password is the user's. An unknown user costs as much time as a wrong password.</summary>
    public bool Verify(string? user, string? password)
    {
        var line = Array.Find(Lines(), candidate => NameOf(candidate) == user);
        var parts = line?.Split(':');
        if (parts is not [_, var iterations, var salt, var hash, ..]
            || !int.TryParse(iterations, NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            || count < 1 || password?.Contains('\0') == true)
        {
            // HMAC fills a short key up with null characters (RFC 2104): with one at its end it would be another's password.
            Hash(password ?? string.Empty, new byte[SaltLength], Iterations);
            return false;
        }

        try
        {
            return CryptographicOperations.FixedTimeEquals(Hash(password ?? string.Empty, Convert.FromBase64String(salt), count),
                Convert.FromBase64String(hash));
        }
        catch (FormatException)
        {
            // A line that somebody edited by hand lets nobody in.
            return false;
        }
    }

    /// <summary>The users and what each may write and read.</summary>
    public IReadOnlyDictionary<string, AccountRights> Rights()
    {
        lock (gate)
        {
            var file = new FileInfo(path);
            var (written, length) = file.Exists ? (file.LastWriteTimeUtc, file.Length) : default;
            if (known is not { } last || last.WrittenAt != written || last.Length != length)
            {
                var rights = Lines().GroupBy(NameOf, StringComparer.Ordinal)
                    .ToDictionary(line => line.Key, line => RightsIn(line.First()), StringComparer.Ordinal);
                known = last = (rights, written, length);
            }

            return last.Rights;
        }
    }

    /// <summary>What a user may write and read, as the file says now; nothing when there is no such user any more.</summary>
    public AccountRights RightsOf(string user) => Rights().GetValueOrDefault(user, AccountRights.None);

    private static AccountRights RightsIn(string line) => line.Split(':') switch
    {
        [_, _, _, _] => AccountRights.All,
        [_, _, _, _, var writes, var reads] => new(Filters(writes), Filters(reads)),
        _ => AccountRights.None,
    };

    // A topic may hold every letter, also those that part the line.
    private static string Listed(IReadOnlyList<string> filters) =>
        string.Join(',', filters.Select(filter => Uri.EscapeDataString(AccountRights.Require(filter))));

    private static string[] Filters(string listed) =>
        [.. listed.Split(',', StringSplitOptions.RemoveEmptyEntries).Select(Uri.UnescapeDataString)];

    private static byte[] Hash(string password, byte[] salt, int iterations) =>
        Rfc2898DeriveBytes.Pbkdf2(Encoding.UTF8.GetBytes(password), salt, iterations, HashAlgorithmName.SHA512, HashLength);

    private static string NameOf(string line) => line.Split(':')[0];

    private string[] Lines() => File.Exists(path) ? [.. File.ReadAllLines(path).Where(line => line.Length > 0)] : [];

    private void Write(string[] lines)
    {
        var beside = path + ".new";
        using (var stream = new FileStream(beside, OwnerOnly()))
        using (var writer = new StreamWriter(stream))
        {
            foreach (var line in lines)
            {
                writer.WriteLine(line);
            }

            writer.Flush();
            stream.Flush(flushToDisk: true);
        }

        File.Move(beside, path, overwrite: true);
    }

    private static FileStreamOptions OwnerOnly()
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        return options;
    }
}

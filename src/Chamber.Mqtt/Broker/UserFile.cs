using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// The users of the built-in broker, one a line: name, iterations, salt and hash, parted by colons. The hash is PBKDF2 with
/// HMAC-SHA-512 (RFC 8018, Moriarty, Kaliski &amp; Rusch 2017, section 5.2); a password itself is never recorded.
/// </summary>
public sealed class UserFile
{
    // The advice of the OWASP Password Storage Cheat Sheet (2023) for this hash; from memory.
    private const int Iterations = 210_000;
    private const int SaltLength = 16;
    private const int HashLength = 32;
    private const int PasswordLengthMin = 8;

    private readonly string path;

    /// <param name="path">The file; it need not exist yet, and then nobody is let in.</param>
    public UserFile(string path) => this.path = path;

    /// <summary>Adds a user or gives them a new password. The file can be read by its owner only, and is replaced as a whole.</summary>
    /// <exception cref="FormatException">The name or the password cannot be used; the message says why.</exception>
    public void Set(string user, string password)
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
            Convert.ToBase64String(Hash(password, salt, Iterations)));
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
        if (parts is not [_, var iterations, var salt, var hash]
            || !int.TryParse(iterations, NumberStyles.None, CultureInfo.InvariantCulture, out var count)
            || count < 1)
        {
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

using System.Security.Cryptography;
using System.Text;

namespace Chamber.Club.People;

/// <summary>A password as Mosquitto's password file has it: <c>$7$iterations$salt$hash</c>, PBKDF2 with HMAC-SHA-512 (RFC 8018) and a hash
/// of 64 bytes, salt and hash in base 64. The tests let Mosquitto read it.</summary>
internal static class BrokerPassword
{
    // As mosquitto_passwd does it. A sensor's password is drawn by lot, so that no reckoning makes it easier to guess; that of the intake
    // is to be as long.
    private const int Iterations = 101;
    private const int SaltLength = 12;
    private const int HashLength = 64;

    public static string Of(string password)
    {
        var salt = RandomNumberGenerator.GetBytes(SaltLength);
        var hash = Rfc2898DeriveBytes.Pbkdf2(Encoding.UTF8.GetBytes(password), salt, Iterations, HashAlgorithmName.SHA512, HashLength);
        return FormattableString.Invariant($"$7${Iterations}${Convert.ToBase64String(salt)}${Convert.ToBase64String(hash)}");
    }
}

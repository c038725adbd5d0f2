using System.Security.Cryptography;
using System.Text;

namespace Chamber.Club.People;

/// <summary>What a link or a cookie holds and nobody can guess; the database knows its SHA-256 alone.</summary>
internal static class Secret
{
    public static string New() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(24));

    public static string Hash(string secret) => Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));
}

using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text.Json.Serialization;

namespace Chamber.Service.Notify;

/// <summary>The key pair by which push services know this server (RFC 8292): P-256, base64url.</summary>
internal sealed record VapidKeys(string Public, string Private)
{
    /// <summary>Whether the public key belongs to the private one.</summary>
    [JsonIgnore]
    public bool IsPair
    {
        get
        {
            try
            {
                using var key = ECDsa.Create(
                    new ECParameters { Curve = ECCurve.NamedCurves.nistP256, D = Base64Url.DecodeFromChars(Private) });
                return Text(key.ExportParameters(includePrivateParameters: false)) == Public.TrimEnd('=');
            }
            catch (Exception problem) when (problem is CryptographicException or FormatException or ArgumentException)
            {
                return false;
            }
        }
    }

    /// <summary>A new pair. Browsers that subscribed under the old one must subscribe again.</summary>
    public static VapidKeys Create()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var parameters = key.ExportParameters(includePrivateParameters: true);
        return new(Text(parameters), Base64Url.EncodeToString(parameters.D!));
    }

    // An uncompressed point: 0x04, X, Y (SEC 1, section 2.3.3).
    private static string Text(ECParameters parameters) => Base64Url.EncodeToString([0x04, .. parameters.Q.X!, .. parameters.Q.Y!]);
}

using System.Buffers.Text;
using System.Security.Cryptography;

namespace Chamber.Service.Notify;

/// <summary>The key pair by which push services know this server (RFC 8292): P-256, base64url.</summary>
internal sealed record VapidKeys(string Public, string Private)
{
    /// <summary>A new pair. Browsers that subscribed under the old one must subscribe again.</summary>
    public static VapidKeys Create()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var parameters = key.ExportParameters(includePrivateParameters: true);

        // An uncompressed point: 0x04, X, Y (SEC 1, section 2.3.3).
        byte[] point = [0x04, .. parameters.Q.X!, .. parameters.Q.Y!];
        return new(Base64Url.EncodeToString(point), Base64Url.EncodeToString(parameters.D!));
    }
}

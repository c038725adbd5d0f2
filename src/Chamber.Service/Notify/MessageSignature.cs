using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Chamber.Service.Notify;

/// <summary>
/// HTTP Message Signatures (RFC 9421) with a shared secret, algorithm <c>hmac-sha256</c> (section 3.3.3), over the method,
/// the target, the content type and the digest of the content (RFC 9530).
/// </summary>
internal static class MessageSignature
{
    private const string Label = "chamber";
    private const string KeyId = "chamber-webhook";

    /// <summary>Adds <c>Content-Digest</c>, <c>Signature-Input</c> and <c>Signature</c>.</summary>
    public static void Sign(HttpRequestMessage request, byte[] content, string secret, DateTimeOffset now)
    {
        var digest = $"sha-256=:{Convert.ToBase64String(SHA256.HashData(content))}:";
        (string Name, string Value)[] components =
        [
            ("@method", request.Method.Method),
            ("@target-uri", request.RequestUri!.AbsoluteUri),
            ("content-digest", digest),
            ("content-type", request.Content!.Headers.ContentType!.ToString()),
        ];
        var names = string.Join(' ', components.Select(component => $"\"{component.Name}\""));
        var parameters = string.Create(
            CultureInfo.InvariantCulture,
            $"({names});created={now.ToUnixTimeSeconds()};keyid=\"{KeyId}\";alg=\"hmac-sha256\"");

        request.Content.Headers.TryAddWithoutValidation("Content-Digest", digest);
        request.Headers.TryAddWithoutValidation("Signature-Input", $"{Label}={parameters}");
        request.Headers.TryAddWithoutValidation("Signature",
            $"{Label}=:{Compute(components, parameters, Encoding.UTF8.GetBytes(secret))}:");
    }

    /// <summary>The signature base of RFC 9421 section 2.5, keyed; in base 64.</summary>
    internal static string Compute(IEnumerable<(string Name, string Value)> components, string parameters, byte[] key)
    {
        var lines = components.Select(component => $"\"{component.Name}\": {component.Value}")
            .Append($"\"@signature-params\": {parameters}");
        return Convert.ToBase64String(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes(string.Join('\n', lines))));
    }
}

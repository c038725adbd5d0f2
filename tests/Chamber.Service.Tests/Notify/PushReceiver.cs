using System.Buffers.Binary;
using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace Chamber.Service.Tests.Notify;

/// <summary>
/// What a browser does with a push message: RFC 8291 section 3.4 (keys) over RFC 8188 (aes128gcm), written for these tests
/// from the standards so that it shares nothing with the sending library. It is itself held to the RFC's own example.
/// </summary>
internal sealed class PushReceiver : IDisposable
{
    private readonly ECDiffieHellman key;
    private readonly byte[] auth;

    public PushReceiver(ECDiffieHellman key, byte[] auth) => (this.key, this.auth) = (key, auth);

    public string PublicKey => Base64Url.EncodeToString(Point(key.ExportParameters(includePrivateParameters: false).Q));

    public string Auth => Base64Url.EncodeToString(auth);

    public static ECDiffieHellman Import(string publicKey, string? privateKey)
    {
        var point = Base64Url.DecodeFromChars(publicKey);
        return ECDiffieHellman.Create(new ECParameters
        {
            Curve = ECCurve.NamedCurves.nistP256,
            Q = new() { X = point[1..33], Y = point[33..65] },
            D = privateKey is null ? null : Base64Url.DecodeFromChars(privateKey),
        });
    }

    public string Open(byte[] body)
    {
        // RFC 8188 section 2.1: salt (16), record size (4), key id length (1), key id.
        var salt = body[..16];
        var keyIdLength = body[20];
        var senderPublic = body[21..(21 + keyIdLength)];
        var record = body[(21 + keyIdLength)..];
        Assert.True(record.Length <= BinaryPrimitives.ReadUInt32BigEndian(body.AsSpan(16)));

        using var sender = Import(Base64Url.EncodeToString(senderPublic), privateKey: null);
        var secret = key.DeriveRawSecretAgreement(sender.PublicKey);
        byte[] keyInfo = [.. "WebPush: info\0"u8, .. Base64Url.DecodeFromChars(PublicKey), .. senderPublic];
        var inputKey = HKDF.DeriveKey(HashAlgorithmName.SHA256, secret, 32, auth, keyInfo);
        var contentKey = HKDF.DeriveKey(HashAlgorithmName.SHA256, inputKey, 16, salt, "Content-Encoding: aes128gcm\0"u8.ToArray());
        var nonce = HKDF.DeriveKey(HashAlgorithmName.SHA256, inputKey, 12, salt, "Content-Encoding: nonce\0"u8.ToArray());

        using var aes = new AesGcm(contentKey, tagSizeInBytes: 16);
        var plain = new byte[record.Length - 16];
        aes.Decrypt(nonce, record.AsSpan(0, plain.Length), record.AsSpan(plain.Length), plain);

        // The last record ends in 0x02 and any number of zeros.
        return Encoding.UTF8.GetString(plain.AsSpan(0, plain.AsSpan().LastIndexOf((byte)2)));
    }

    public void Dispose() => key.Dispose();

    private static byte[] Point(ECPoint point) => [0x04, .. point.X!, .. point.Y!];
}

using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Chamber.Testing;

/// <summary>A certificate authority of a test's own. Writes PEM files into the test's folder.</summary>
public sealed class TestAuthority : IDisposable
{
    private static readonly DateTimeOffset From = TimeProvider.System.GetUtcNow().AddDays(-1);

    private readonly TempFolder folder;
    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly X509Certificate2 certificate;
    private long serial = 1;

    public TestAuthority(TempFolder folder, string name = "home authority")
    {
        this.folder = folder;
        var request = new CertificateRequest($"CN={name}", key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        certificate = request.CreateSelfSigned(From, From.AddDays(30));
        File = folder.Write($"{name.Replace(' ', '-')}.pem", certificate.ExportCertificatePem());
    }

    /// <summary>The authority's own certificate.</summary>
    public string File { get; }

    /// <summary>A certificate for a broker or a client, with its key.</summary>
    /// <param name="name">Its common name; also the host name that it is made out to, beside 127.0.0.1 when the name is
    /// <c>localhost</c>.</param>
    public (string Certificate, string Key) Sign(string name)
    {
        using var own = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN={name}", own, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(name);
        if (name == "localhost")
        {
            names.AddIpAddress(System.Net.IPAddress.Loopback);
        }

        request.CertificateExtensions.Add(names.Build());
        using var signed = request.Create(certificate, From, From.AddDays(20), BitConverter.GetBytes(serial++));
        return (folder.Write($"{name}.pem", signed.ExportCertificatePem()), folder.Write($"{name}.key", own.ExportPkcs8PrivateKeyPem()));
    }

    public void Dispose()
    {
        certificate.Dispose();
        key.Dispose();
    }
}

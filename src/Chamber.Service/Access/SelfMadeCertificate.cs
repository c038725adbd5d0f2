using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Chamber.Service.Access;

/// <summary>
/// Our own certificate for homes that have none: the browser warns once, and the connection is private.
/// Kept as <c>page-certificate.pfx</c> in the data directory so that the warning comes once and not at each start.
/// </summary>
internal static class SelfMadeCertificate
{
    private const int DaysValid = 397;
    private const int DaysBeforeRenewal = 30;

    public static X509Certificate2 LoadOrCreate(string path, TimeProvider time)
    {
        if (File.Exists(path))
        {
            var kept = X509CertificateLoader.LoadPkcs12FromFile(path, password: null);
            if (kept.NotAfter.ToUniversalTime() > time.GetUtcNow().UtcDateTime.AddDays(DaysBeforeRenewal))
            {
                return kept;
            }

            kept.Dispose();
        }

        using var made = Create(Dns.GetHostName(), time.GetUtcNow());
        var bytes = made.Export(X509ContentType.Pfx);
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        using (var stream = new FileStream(path, options))
        {
            stream.Write(bytes);
        }

        return X509CertificateLoader.LoadPkcs12(bytes, password: null);
    }

    private static X509Certificate2 Create(string host, DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN=Chamber on {host}", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(host);
        names.AddDnsName($"{host}.local");
        names.AddDnsName("localhost");
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(
            new X509BasicConstraintsExtension(certificateAuthority: false, hasPathLengthConstraint: false, 0, critical: true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new("1.3.6.1.5.5.7.3.1")], critical: false));
        return request.CreateSelfSigned(now.AddHours(-1), now.AddDays(DaysValid));
    }
}

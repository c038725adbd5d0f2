using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Chamber.Service.Configuration;

namespace Chamber.Service.Access;

/// <summary>
/// Our own certificates for homes that have none. The page's: the browser warns once, and the connection is private. Kept as
/// <c>page-certificate.pfx</c> in the data directory so that the warning comes once and not at each start. The broker's: sensors are given
/// the file and trust it alone, so that it lasts for ten years; browsers take none that does.
/// </summary>
internal static class SelfMadeCertificate
{
    private const int DaysValid = 397;
    private const int DaysValidOfBroker = 3650;
    private const int DaysBeforeRenewal = 30;

    /// <summary>The page's: the one that is kept, or a new one where there is none, it soon ends, or it cannot be read.</summary>
    public static X509Certificate2 LoadOrCreate(string path, TimeProvider time)
    {
        if (Kept(path) is { } kept)
        {
            if (kept.NotAfter.ToUniversalTime() > time.GetUtcNow().UtcDateTime.AddDays(DaysBeforeRenewal))
            {
                return kept;
            }

            kept.Dispose();
        }

        using var made = Create(Dns.GetHostName(), time.GetUtcNow(), DaysValid, []);
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

    /// <summary>Makes the broker's certificate and its key, unless they are there already.</summary>
    /// <param name="certificate">A PEM file, for sensors to trust.</param>
    /// <param name="key">A PEM file that only its owner can read.</param>
    /// <param name="addresses">Addresses of this machine by which sensors may name it.</param>
    /// <param name="time">From when it is valid.</param>
    public static void MakeForBroker(string certificate, string key, IEnumerable<IPAddress> addresses, TimeProvider time)
    {
        if (IsGood(certificate, key))
        {
            return;
        }

        using var made = Create(Dns.GetHostName(), time.GetUtcNow(), DaysValidOfBroker, addresses);
        using var own = made.GetECDsaPrivateKey()!;
        WholeFile.Write(key, own.ExportPkcs8PrivateKeyPem() + "\n", ownerOnly: true);
        WholeFile.Write(certificate, made.ExportCertificatePem() + "\n", ownerOnly: false);
    }

    private static X509Certificate2? Kept(string path)
    {
        try
        {
            return File.Exists(path) ? X509CertificateLoader.LoadPkcs12FromFile(path, password: null) : null;
        }
        catch (CryptographicException)
        {
            // Emptied by a power cut, say: browsers warn once more, which is less than no page.
            return null;
        }
    }

    private static bool IsGood(string certificate, string key)
    {
        try
        {
            if (!File.Exists(certificate) || !File.Exists(key))
            {
                return false;
            }

            X509Certificate2.CreateFromPemFile(certificate, key).Dispose();
            return true;
        }
        catch (CryptographicException)
        {
            return false;
        }
    }

    private static X509Certificate2 Create(string host, DateTimeOffset now, int days, IEnumerable<IPAddress> addresses)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN=Chamber on {host}", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(host);
        names.AddDnsName($"{host}.local");
        names.AddDnsName("localhost");
        foreach (var address in addresses.Append(IPAddress.Loopback).Distinct())
        {
            names.AddIpAddress(address);
        }

        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(
            new X509BasicConstraintsExtension(certificateAuthority: false, hasPathLengthConstraint: false, 0, critical: true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new("1.3.6.1.5.5.7.3.1")], critical: false));
        return request.CreateSelfSigned(now.AddHours(-1), now.AddDays(days));
    }
}

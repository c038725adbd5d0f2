using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using Chamber.Service.Access;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Access;

public sealed class SelfMadeCertificateTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly FakeTimeProvider time = new(DateTimeOffset.UnixEpoch.AddYears(60));

    [Fact]
    public void It_is_kept_so_that_the_browser_warns_once()
    {
        using var first = Make();
        using var second = Make();

        Assert.Equal(first.Thumbprint, second.Thumbprint);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(FilePath));
    }

    [Fact]
    public void It_is_made_anew_before_it_runs_out()
    {
        using var first = Make();
        time.Advance(TimeSpan.FromDays(370));
        using var second = Make();

        Assert.NotEqual(first.Thumbprint, second.Thumbprint);
    }

    [Fact]
    public async Task A_client_that_trusts_it_gets_a_connection_for_localhost()
    {
        using var certificate = SelfMadeCertificate.LoadOrCreate(FilePath, TimeProvider.System);
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        using var client = new TcpClient();
        await client.ConnectAsync((IPEndPoint)listener.LocalEndpoint, TestContext.Current.CancellationToken);
        using var accepted = await listener.AcceptTcpClientAsync(TestContext.Current.CancellationToken);
        await using var server = new SslStream(accepted.GetStream());
        await using var browser = new SslStream(client.GetStream(), false, (_, given, _, errors) =>
            errors == SslPolicyErrors.RemoteCertificateChainErrors && given!.GetCertHashString() == certificate.Thumbprint);

        await Task.WhenAll(server.AuthenticateAsServerAsync(certificate), browser.AuthenticateAsClientAsync("localhost"));

        Assert.True(browser.IsEncrypted);
    }

    public void Dispose() => folder.Dispose();

    private string FilePath => Path.Combine(folder.Path, "page-certificate.pfx");

    private X509Certificate2 Make() => SelfMadeCertificate.LoadOrCreate(FilePath, time);
}

using System.Reflection;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Tests.Commands;
using Chamber.Service.Web;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;

namespace Chamber.Service.Tests.Web;

/// <summary>The service on a home whose clock stands, so that no worker reads or writes meanwhile. Its certificate comes from elsewhere, so
/// that it does not open its own page either.</summary>
internal sealed class StillPage : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly WebApplication service;
    private readonly HttpClient http;

    private StillPage(HomeRig rig)
    {
        var port = FreePort.Next();
        using var authority = new TestAuthority(folder);
        var (certificate, key) = authority.Sign("127.0.0.1");
        var made = System.Security.Cryptography.X509Certificates.X509CertificateLoader.LoadCertificateFromFile(certificate)
            .GetCertHashString();
        service = ChamberHost.Build(new()
        {
            Broker = new() { Listen = [new() { Port = FreePort.Next() }] },
            Page = new() { Port = port, Certificate = certificate, Key = key },
        }, new DataDirectory(rig.Path), rig.Clock, json: true);
        http = new(new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            SslOptions = { RemoteCertificateValidationCallback = (_, given, _, _) => given?.GetCertHashString() == made },
        })
        {
            BaseAddress = new($"https://127.0.0.1:{port}"),
        };
    }

    public ChamberStore Store => service.Services.GetRequiredService<ChamberStore>();

    public HomeReader Home => service.Services.GetRequiredService<HomeContext>().Read();

    public static async Task<StillPage> Open(HomeRig rig)
    {
        var page = new StillPage(rig);
        await page.service.StartAsync(TestContext.Current.CancellationToken);
        return page;
    }

    public async Task<string> Get(string path)
    {
        using var answer = await http.GetAsync(path, TestContext.Current.CancellationToken);
        Assert.True((int)answer.StatusCode < 400, $"{path}: {answer.StatusCode}");
        return await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>The address of every page, with these names in it.</summary>
    public static IEnumerable<string> Addresses(string batch, string spot, string lot) =>
        from page in typeof(WebModule).Assembly.GetTypes()
        from route in page.GetCustomAttributes<RouteAttribute>()
        where route.Template is not ("/not-found" or "/guest/{Token}")
        select route.Template.Replace("{Id}", batch, StringComparison.Ordinal)
            .Replace("/history/{What}/{Name}", $"/history/batch/{batch}", StringComparison.Ordinal)
            .Replace("lots/{Name}", $"lots/{lot}", StringComparison.Ordinal)
            .Replace("{Name}", spot, StringComparison.Ordinal)
            .Replace("{Number:long}", "1", StringComparison.Ordinal);

    public async ValueTask DisposeAsync()
    {
        await service.StopAsync();
        await service.DisposeAsync();
        http.Dispose();
        folder.Dispose();
    }
}

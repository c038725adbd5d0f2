using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Service.Access;
using Chamber.Service.Tests.Rig;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>A home with a surveyed shelf, seed, a batch and an alert, served by the built program.</summary>
internal sealed class ApiRig : IAsyncDisposable
{
    private const string Loopback = "127.0.0.1";

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly HttpClient http;
    private RunningProgram? service;

    private readonly string ip;

    private ApiRig(string ip)
    {
        this.ip = ip;
        var handler = new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false,
            SslOptions = { RemoteCertificateValidationCallback = (_, given, _, _) => given?.GetCertHashString() == Kept() } };
        http = new(handler) { BaseAddress = new Uri($"{(ip == Loopback ? "http" : "https")}://{ip}:{port}") };
    }

    public string Data => folder.Path;

    public Uri Address => http.BaseAddress!;

    /// <param name="access">Lets people and guests in before the service starts.</param>
    /// <param name="ip">Where the page is; on any other address than the loopback one people sign in.</param>
    /// <param name="more">Further settings, each with its comma.</param>
    public static async Task<ApiRig> Start(Action<Gatekeeper>? access = null, string ip = Loopback, string more = "")
    {
        var rig = new ApiRig(ip);
        rig.Furnish();
        access?.Invoke(new(new(Path.Combine(rig.Data, "page-access.json")), new(TimeProvider.System), TimeProvider.System));
        rig.folder.Write("chamber.json",
            $$"""{ {{more}} {{NightElsewhen.Of(Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow()))}} "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "address": "{{ip}}", "port": {{rig.port}} } }""");
        rig.service = ChamberProcess.Start("run", "--data", rig.Data);
        await rig.service.Line("Chamber is ready");
        return rig;
    }

    /// <param name="method">The verb of HTTP.</param>
    /// <param name="path">With its query.</param>
    /// <param name="body">JSON, or null for none.</param>
    /// <param name="headers">Further headers.</param>
    public Task<HttpResponseMessage> Call(string method, string path, string? body = null, params (string Name, string Value)[] headers)
    {
        var request = new HttpRequestMessage(new(method), path);
        if (body is not null)
        {
            request.Content = new StringContent(body, Encoding.UTF8, "application/json");
        }

        foreach (var (name, value) in headers)
        {
            request.Headers.Add(name, value);
        }

        return http.SendAsync(request, TestContext.Current.CancellationToken);
    }

    /// <summary>Sends what is no JSON.</summary>
    public Task<HttpResponseMessage> Post(string path, byte[] body, string mediaType) =>
        http.SendAsync(new(HttpMethod.Post, path)
        {
            Content = new ByteArrayContent(body) { Headers = { ContentType = new(mediaType) } },
            Headers = { ExpectContinue = true },
        }, TestContext.Current.CancellationToken);

    public async Task<JsonElement> Json(string method, string path, string? body = null)
    {
        using var answer = await Call(method, path, body);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, $"{method} {path}: {(int)answer.StatusCode} {text}");
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Signs in; all further calls carry the session.</summary>
    public async Task SignIn(string name, string password)
    {
        using var answer = await Call("POST", "/api/sign-in", JsonSerializer.Serialize(new { name, password }));
        var cookie = answer.Headers.GetValues("Set-Cookie").First(line => line.StartsWith("chamber=", StringComparison.Ordinal));
        http.DefaultRequestHeaders.Add("Cookie", cookie.Split(';')[0]);
    }

    /// <summary>Comes in by a guest's link; all further calls carry the session.</summary>
    public async Task Visit(string token)
    {
        using var answer = await Call("GET", $"/guest/{token}");
        var cookie = answer.Headers.GetValues("Set-Cookie").First(line => line.StartsWith("chamber=", StringComparison.Ordinal));
        http.DefaultRequestHeaders.Add("Cookie", cookie.Split(';')[0]);
    }

    /// <summary>Further calls carry no session.</summary>
    public Task ForgetSession()
    {
        http.DefaultRequestHeaders.Remove("Cookie");
        return Task.CompletedTask;
    }

    /// <summary>The problem details of a request that must be refused.</summary>
    public async Task<JsonElement> Problem(HttpStatusCode status, string method, string path, string? body = null,
        params (string Name, string Value)[] headers)
    {
        using var answer = await Call(method, path, body, headers);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.StatusCode == status, $"{method} {path}: {(int)answer.StatusCode} {text}");
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Waits until the service's console says so.</summary>
    public Task Said(string line) => service!.Line(line);

    /// <summary>Waits until the service has ended by itself.</summary>
    public Task Ended() => service!.End();

    public async ValueTask DisposeAsync()
    {
        if (service is not null)
        {
            await service.DisposeAsync();
        }

        http.Dispose();
        folder.Dispose();
    }

    // The client trusts the certificate that Chamber keeps in its data directory, and no other.
    private string Kept()
    {
        using var kept = X509CertificateLoader.LoadPkcs12FromFile(folder.File("page-certificate.pfx"), null);
        return kept.Thumbprint;
    }

    private void Furnish()
    {
        using var store = ChamberStore.Open(Path.Combine(Data, "chamber.db"));
        var now = Instant.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds());
        var (probe, shelf) = (new ProbeId("p1"), new SpotId("shelf"));
        store.Ledger.SetUp.Save(new Spot(shelf, SpotKind.Shelf, LightLevel.Dim, 4));
        store.Ledger.SetUp.Save(new Spot(new("sill"), SpotKind.Sill, LightLevel.Bright, 4));
        store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Probe.DefaultMaxGap)));
        store.Ledger.SetUp.Put(probe, shelf, now - Duration.FromDays(9));
        store.Journal.Append(
            [.. Enumerable.Range(0, 8 * 24 * 4).Select(quarter => Warm(probe, now - Duration.FromMinutes(15 * quarter), quarter))], []);
        store.Ledger.Seeds.Save(new Lot(new("tomato-24"), new("tomato"), null, SeedOrigin.Bought, 2024, LotYearKind.PackedFor, 60,
            now - Duration.FromDays(9), 2.2m));
        store.Ledger.Batches.Sow(new Batch(new("T1"), new("tomato"), new LotId("tomato-24"), SowingMethod.CoveredMix,
            now - Duration.FromDays(6), 12, [new Stay(shelf, new(now - Duration.FromDays(6), null))], []));
        store.Ledger.Alerts.Save(new AlertEntry(0, AlertKind.WeakBattery, new(SubjectKind.Probe, "p1"), Severity.Note, now, now, "{}"));
    }

    private static Reading Warm(ProbeId probe, Instant at, int quarter) =>
        new(probe, at, at, Temperature.FromCelsius(24 + 3 * Math.Sin(quarter / 96.0 * Math.Tau)));
}

using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography.X509Certificates;
using System.Text.RegularExpressions;
using Chamber.Service.Access;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>The built program on an address that the rest of the home can reach: real TLS, real requests.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class PageOverHttpsTests : IDisposable
{
    private const string Password = "four short words here";

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly string ip = OwnAddress.Find();
    private readonly HttpClient http;
    private string? own;

    public PageOverHttpsTests() => http = new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        SslOptions = { RemoteCertificateValidationCallback = (_, given, _, _) => given?.GetCertHashString() == (own ?? Kept()) },
    })
    {
        BaseAddress = new($"https://{ip}:{port}"),
    };

    [Fact]
    public async Task Nobody_gets_in_without_signing_in_and_every_answer_carries_its_guards()
    {
        await using var service = await Run();

        using var page = await http.GetAsync("/spots", TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Redirect, page.StatusCode);
        Assert.Contains("/sign-in", page.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.Equal("nosniff", Header(page.Headers, "X-Content-Type-Options"));
        Assert.Equal("DENY", Header(page.Headers, "X-Frame-Options"));
        var policy = Header(page.Headers, "Content-Security-Policy");
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("script-src 'self';", policy, StringComparison.Ordinal);

        // The very files that a stranger may have are those that the sign-in page needs.
        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/page.css", TestContext.Current.CancellationToken)).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect,
            (await http.GetAsync("/set-up/backups/chamber.db", TestContext.Current.CancellationToken)).StatusCode);
        Assert.NotEqual(HttpStatusCode.OK,
            (await http.PostAsync("/_blazor/negotiate?negotiateVersion=1", null, TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task The_console_code_lets_the_first_person_in_by_a_script_proof_cookie()
    {
        await using var service = await Run();
        var code = (await service.Line("sign up with the code")).Split("sign up with the code ")[1][..8];

        using var entered = await Enter(code, Password);

        Assert.Equal(HttpStatusCode.Redirect, entered.StatusCode);
        var cookie = Assert.Single(entered.Headers.GetValues("Set-Cookie"), line => line.StartsWith("chamber=", StringComparison.Ordinal));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("secure", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/spots", TestContext.Current.CancellationToken)).StatusCode);
        Assert.DoesNotContain(Password, await File.ReadAllTextAsync(folder.File("page-access.json"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);

        // A file of the log is kept for weeks and goes into a report.
        service.AskToStop();
        await service.End();
        var kept = string.Concat(Directory.EnumerateFiles(folder.File("logs")).Select(File.ReadAllText));
        Assert.Contains("Chamber is ready", kept, StringComparison.Ordinal);
        Assert.DoesNotContain(code, kept, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_cookie_that_guards_forms_goes_over_TLS_alone()
    {
        await using var service = await Run();
        using var page = await http.GetAsync("/sign-in", TestContext.Current.CancellationToken);
        var cookie = Assert.Single(page.Headers.GetValues("Set-Cookie"),
            line => line.StartsWith(".AspNetCore.Antiforgery.", StringComparison.Ordinal));
        Assert.Contains("secure", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_form_from_elsewhere_is_refused_and_guessing_is_locked_out()
    {
        await using var service = await Run();
        using var foreign = await http.PostAsync("/sign-in", Form(null, "AAAA2222", Password), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.BadRequest, foreign.StatusCode);

        for (var i = 0; i < Lockout.FailuresMax; i++)
        {
            using var wrong = await Enter("AAAA2222", Password);
            Assert.Contains("not the code", await wrong.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
                StringComparison.Ordinal);
        }

        var code = (await service.Line("sign up with the code")).Split("sign up with the code ")[1][..8];
        using var late = await Enter(code, Password);
        Assert.Contains("Too many wrong tries", await late.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_certificate_of_ones_own_is_served_and_otherwise_one_is_made_and_kept()
    {
        using var authority = new TestAuthority(folder);
        var (certificate, key) = authority.Sign("chamber.home");
        await using (await Run($$""", "certificate": "{{certificate}}", "key": "{{key}}" """))
        {
            using var given = X509Certificate2.CreateFromPemFile(certificate, key);
            own = given.Thumbprint;
            Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/sign-in", TestContext.Current.CancellationToken)).StatusCode);
            Assert.False(File.Exists(folder.File("page-certificate.pfx")));
        }

        own = null;
        await using (await Run())
        {
            Assert.Equal(HttpStatusCode.OK, (await http.GetAsync("/sign-in", TestContext.Current.CancellationToken)).StatusCode);
        }
    }

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]*)\"")]
    private static partial Regex Token();

    // The client trusts the certificate that Chamber keeps in its data directory, and no other.
    private string Kept()
    {
        using var kept = X509CertificateLoader.LoadPkcs12FromFile(folder.File("page-certificate.pfx"), null);
        return kept.Thumbprint;
    }

    private static string Header(HttpResponseHeaders headers, string name) => Assert.Single(headers.GetValues(name));

    private static FormUrlEncodedContent Form(string? token, string code, string password) => new(
    [
        new("_handler", "enter"), new("__RequestVerificationToken", token ?? ""),
        new("Form.Code", code), new("Form.Name", "Ada"), new("Form.Password", password),
    ]);

    private async Task<HttpResponseMessage> Enter(string code, string password)
    {
        var page = await http.GetStringAsync("/sign-in", TestContext.Current.CancellationToken);
        return await http.PostAsync("/sign-in", Form(Token().Match(page).Groups[1].Value, code, password),
            TestContext.Current.CancellationToken);
    }

    private async Task<RunningProgram> Run(string more = "")
    {
        folder.Write("chamber.json",
            $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "address": "{{ip}}", "port": {{port}}{{more}} } }""");
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }
}

using System.Net;
using Chamber.Service.Access;
using Chamber.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Access;

public sealed class AccessModuleTests : IAsyncLifetime
{
    private readonly TempFolder folder = new();
    private readonly HttpClient http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });
    private WebApplication app = null!;

    public async ValueTask InitializeAsync() => await Open();

    private async Task Open()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddAccess(Path.Combine(folder.Path, "access.json"), folder.File("keys"));
        app = builder.Build();
        app.UseAccess();
        app.MapGet("/", (HttpContext context) => context.User.Identity!.Name);
        app.MapGet("/api/spots", () => "[]");
        app.MapPost("/api/looks", () => "done").RequireAuthorization(AccessModule.Change);
        app.MapPost("/enter", (HttpContext context) => AccessModule.SignInAsync(context, Gate.SignIn("Ada", "four short words do", "test")))
            .AllowAnonymous();
        app.MapPost("/visit", (HttpContext context, string token) => AccessModule.SignInGuestAsync(context, Gate.GuestOf(token)!))
            .AllowAnonymous();
        app.MapPost("/leave", AccessModule.SignOutAsync);
        app.MapPost("/guess", (HttpContext context, string name) => KnownBrowser.Of(context, name) ?? "unknown").AllowAnonymous();
        await app.StartAsync();
    }

    [Theory]
    [InlineData("localhost")]
    [InlineData("127.0.0.1")]
    public async Task Whoever_sits_at_this_machine_needs_no_password(string host) =>
        Assert.Equal(HttpStatusCode.OK, (await Get("/", host)).StatusCode);

    [Fact]
    public async Task A_page_that_points_its_own_name_at_loopback_must_sign_in() =>
        Assert.Equal(HttpStatusCode.Redirect, (await Get("/", "evil.example")).StatusCode);

    [Fact]
    public async Task A_request_through_a_proxy_on_this_machine_must_sign_in() =>
        Assert.Equal(HttpStatusCode.Redirect, (await Get("/", "localhost", ("X-Forwarded-For", "192.0.2.7"))).StatusCode);

    [Fact]
    public async Task A_program_that_is_not_signed_in_is_told_so_by_status() =>
        Assert.Equal(HttpStatusCode.Unauthorized, (await Get("/api/spots", "chamber.home")).StatusCode);

    [Fact]
    public async Task A_person_may_change_things_and_the_cookie_is_out_of_reach_of_scripts()
    {
        Gate.SignUp(Gate.OneTimeCode, "Ada", "four short words do", "test");

        var cookie = await Enter("/enter");

        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(HttpStatusCode.OK, (await Post("/api/looks", cookie)).StatusCode);
    }

    [Fact]
    public async Task A_restart_signs_nobody_out_and_the_keys_are_closed_to_others()
    {
        Gate.SignUp(Gate.OneTimeCode, "Ada", "four short words do", "test");
        var cookie = await Enter("/enter");
        await app.DisposeAsync();
        await Open();

        Assert.Equal(HttpStatusCode.OK, (await Post("/api/looks", cookie)).StatusCode);
        Assert.NotEmpty(Directory.GetFiles(folder.File("keys")));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(folder.File("keys")));
    }

    [Fact]
    public async Task A_guest_may_only_look_and_is_out_when_the_link_is_taken_back()
    {
        var (link, token) = Gate.Invite("the neighbour who waters");
        var cookie = await Enter($"/visit?token={token}");

        Assert.Equal(HttpStatusCode.OK, (await Get("/api/spots", "chamber.home", ("Cookie", cookie))).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await Post("/api/looks", cookie)).StatusCode);
        Gate.TakeBack(link.Id);
        Assert.Equal(HttpStatusCode.Unauthorized, (await Get("/api/spots", "chamber.home", ("Cookie", cookie))).StatusCode);
    }

    [Fact]
    public async Task A_cookie_is_dead_after_sign_out_also_where_somebody_kept_a_copy()
    {
        Gate.SignUp(Gate.OneTimeCode, "Ada", "four short words do", "test");
        var (kept, other) = (await Enter("/enter"), await Enter("/enter"));
        Assert.Equal(HttpStatusCode.OK, (await Post("/api/looks", kept)).StatusCode);

        await Post("/leave", kept);

        Assert.Equal(HttpStatusCode.Unauthorized, (await Post("/api/looks", kept)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await Post("/api/looks", other)).StatusCode);
        await app.DisposeAsync();
        await Open();
        Assert.Equal(HttpStatusCode.Unauthorized, (await Post("/api/looks", kept)).StatusCode);
    }

    [Fact]
    public async Task A_browser_is_known_to_whom_it_signed_in_and_to_nobody_else()
    {
        Gate.SignUp(Gate.OneTimeCode, "Ada", "four short words do", "test");
        using var entered = await Send(HttpMethod.Post, "/enter", "chamber.home", []);
        var known = entered.Headers.GetValues("Set-Cookie").Single(
            cookie => cookie.StartsWith(KnownBrowser.CookieName, StringComparison.Ordinal));

        Assert.Contains("httponly", known, StringComparison.OrdinalIgnoreCase);
        Assert.NotEqual("unknown", await Text(await Post("/guess?name=ada", known)));
        Assert.Equal("unknown", await Text(await Post("/guess?name=Eve", known)));
        Assert.Equal("unknown", await Text(await Post("/guess?name=Ada", $"{KnownBrowser.CookieName}=made-up")));
    }

    [Theory]
    [InlineData("chamber.home:8470", "connect-src 'self' ws://chamber.home:8470 wss://chamber.home:8470")]
    [InlineData("[::1]:8470", "connect-src 'self' ws://[::1]:8470 wss://[::1]:8470")]
    public async Task The_policy_names_its_own_live_connection_and_no_other(string host, string part)
    {
        using var response = await Get("/", host);

        Assert.EndsWith(part, Assert.Single(response.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
    }

    [Fact]
    public void What_claims_to_be_a_host_becomes_no_part_of_the_policy()
    {
        var response = new DefaultHttpContext().Response;
        SecurityHeaders.Add(response.Headers, new HostString("a; script-src *"));

        Assert.EndsWith("connect-src 'self'", response.Headers.ContentSecurityPolicy.ToString(), StringComparison.Ordinal);
    }

    // Names and values as the OWASP Secure Headers Project and CSP Level 3 describe them.
    [Theory]
    [InlineData("Content-Security-Policy", "script-src 'self';")]
    [InlineData("Content-Security-Policy", "frame-ancestors 'none'")]
    [InlineData("X-Content-Type-Options", "nosniff")]
    [InlineData("X-Frame-Options", "DENY")]
    [InlineData("Referrer-Policy", "no-referrer")]
    public async Task Every_answer_carries_the_safe_headers(string name, string part)
    {
        using var response = await Get("/", "localhost");

        Assert.Contains(part, Assert.Single(response.Headers.GetValues(name)), StringComparison.Ordinal);
    }

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        http.Dispose();
        folder.Dispose();
    }

    private Gatekeeper Gate => app.Services.GetRequiredService<Gatekeeper>();

    private static Task<string> Text(HttpResponseMessage response) =>
        response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

    private Task<HttpResponseMessage> Get(string path, string host, params (string Name, string Value)[] headers) =>
        Send(HttpMethod.Get, path, host, headers);

    private Task<HttpResponseMessage> Post(string path, string cookie) => Send(HttpMethod.Post, path, "chamber.home", [("Cookie", cookie)]);

    private async Task<string> Enter(string path)
    {
        using var response = await Send(HttpMethod.Post, path, "chamber.home", []);
        return response.Headers.GetValues("Set-Cookie").Single(cookie => cookie.StartsWith("chamber=", StringComparison.Ordinal));
    }

    private async Task<HttpResponseMessage> Send(HttpMethod method, string path, string host, (string Name, string Value)[] headers)
    {
        using var request = new HttpRequestMessage(method, app.Urls.First() + path);
        request.Headers.Host = host;
        foreach (var (name, value) in headers)
        {
            request.Headers.TryAddWithoutValidation(name, value.Split(';')[0]);
        }

        return await http.SendAsync(request, TestContext.Current.CancellationToken);
    }
}

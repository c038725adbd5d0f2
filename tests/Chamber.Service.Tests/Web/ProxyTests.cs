using System.Globalization;
using System.Net;
using Chamber.Service.Tests.Web.Api;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>A real reverse proxy on the same machine, set up as plainly as its manual begins: whoever comes through it is not the
/// owner.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class ProxyTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly HttpClient http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [Theory]
    [InlineData("")]
    [InlineData("proxy_http_version 1.1; proxy_set_header Host $http_host;")]
    [InlineData("proxy_http_version 1.1; proxy_set_header X-Real-IP $remote_addr;")]
    [InlineData("proxy_http_version 1.1; proxy_set_header X-Forwarded-For $proxy_add_x_forwarded_for;")]
    [InlineData("proxy_http_version 1.1; proxy_set_header X-Forwarded-Proto $scheme;")]
    [InlineData("proxy_http_version 1.1; proxy_set_header Forwarded \"for=$remote_addr\";")]
    [InlineData("proxy_http_version 1.1; proxy_set_header Via \"1.1 home\";")]
    public async Task Who_comes_through_a_proxy_has_to_sign_in(string headers)
    {
        await using var rig = await ApiRig.Start();
        await using var proxy = await Start(rig.Address, headers);

        using var direct = await rig.Call("GET", "/api/batches");
        Assert.Equal(HttpStatusCode.OK, direct.StatusCode);
        using var through = await Get("/api/batches");
        Assert.Equal(HttpStatusCode.Unauthorized, through.StatusCode);
        using var page = await Get("/");
        Assert.Equal(HttpStatusCode.Redirect, page.StatusCode);
    }

    [Fact]
    public async Task Who_comes_first_through_a_proxy_signs_up_with_the_code()
    {
        await using var rig = await ApiRig.Start();
        await using var proxy = await Start(rig.Address, "proxy_http_version 1.1; proxy_set_header Host $http_host;");

        using var form = await Get("/sign-in");
        await rig.Said("sign up with the code ");
        Assert.Contains("Code from the console", await form.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Through_an_unmarked_proxy_people_sign_in_once_somebody_has_signed_up()
    {
        await using var rig = await ApiRig.Start(gate => gate.Add("Ada", "four short words do"));
        await using var proxy = await Start(rig.Address, "proxy_http_version 1.1;");

        using var through = await Get("/api/batches");
        Assert.Equal(HttpStatusCode.Unauthorized, through.StatusCode);
    }

    private Task<HttpResponseMessage> Get(string path)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, $"http://127.0.0.1:{port}{path}");
        request.Headers.Host = "chamber.home";
        return http.SendAsync(request, TestContext.Current.CancellationToken);
    }

    private async Task<RunningProgram> Start(Uri behind, string headers)
    {
        var configuration = folder.Write("nginx.conf", string.Create(CultureInfo.InvariantCulture, $$"""
            daemon off; master_process off; pid {{folder.File("pid")}}; error_log stderr notice;
            events { }
            http {
              access_log off; client_body_temp_path {{folder.File("body")}}; proxy_temp_path {{folder.File("temp")}};
              fastcgi_temp_path {{folder.File("f")}}; uwsgi_temp_path {{folder.File("u")}}; scgi_temp_path {{folder.File("s")}};
              server { listen 127.0.0.1:{{port}}; location / { proxy_pass {{behind.AbsoluteUri.TrimEnd('/')}}; {{headers}} } }
            }
            """));
        var proxy = RunningProgram.Start("/usr/sbin/nginx", ["-c", configuration, "-p", folder.Path, "-e", "stderr"]);
        await proxy.Line("using the \"epoll\" event method");
        return proxy;
    }
}

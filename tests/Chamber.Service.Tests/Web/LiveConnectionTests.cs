using System.Net;
using Chamber.Service.Tests.Web.Api;

namespace Chamber.Service.Tests.Web;

/// <summary>The live connection of a page is for pages of this server: a web socket is open to every site that somebody has open.</summary>
public sealed class LiveConnectionTests
{
    [Theory]
    [InlineData("GET", "/_blazor?id=x", "https://evil.example")]
    [InlineData("POST", "/_blazor/negotiate?negotiateVersion=1", "https://evil.example")]
    [InlineData("GET", "/_blazor?id=x", "null")]
    public async Task A_foreign_page_gets_no_live_connection(string method, string path, string origin)
    {
        await using var rig = await ApiRig.Start();
        using var answer = await rig.Call(method, path, null, ("Origin", origin), ("Connection", "Upgrade"), ("Upgrade", "websocket"),
            ("Sec-WebSocket-Version", "13"), ("Sec-WebSocket-Key", "dGhlIHNhbXBsZSBub25jZQ=="));
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task The_pages_of_this_server_get_one()
    {
        await using var rig = await ApiRig.Start();
        using var answer = await rig.Call("POST", "/_blazor/negotiate?negotiateVersion=1", null,
            ("Origin", rig.Address.AbsoluteUri.TrimEnd('/')));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Fact]
    public async Task A_site_that_the_browser_calls_foreign_gets_none_whatever_its_name()
    {
        await using var rig = await ApiRig.Start();
        using var answer = await rig.Call("POST", "/_blazor/negotiate?negotiateVersion=1", null, ("Sec-Fetch-Site", "cross-site"));
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }
}

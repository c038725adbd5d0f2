using System.Net;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Service.Tests.Web;

/// <summary>The page as the built program serves it. Readings, times and counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class PageTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly HttpClient http = new();

    [Fact]
    public async Task It_shows_what_the_command_line_shows_and_no_link_leads_nowhere()
    {
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "port": {{port}} } }""");
        await Do("spot", "add", "mat", "--kind", "heat-mat");
        await Do("sow", "tomato", "--seeds", "12", "--spot", "mat", "--when", "yesterday");
        await Do("read", "mat", "55C", "--sure");
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Danger: 55.0 °C on mat");
        await service.Line("Chamber is ready");

        var today = await Page("/");
        Assert.Contains("Danger: 55.0 °C on mat", today, StringComparison.Ordinal);
        Assert.Contains("Unplug the mat at the wall with dry hands", today, StringComparison.Ordinal);
        Assert.Contains("Caution: Use a heat mat made for seedlings", await Page("/spots"), StringComparison.Ordinal);
        Assert.Contains("T1 tomato", await Page("/batches"), StringComparison.Ordinal);

        // The address that the code on a printed label leads to.
        Assert.Contains("12 seeds, covered mix, on mat", await Page("/batches/T1"), StringComparison.Ordinal);
        foreach (var link in Links().Matches(today).Select(match => match.Groups[1].Value).Where(link => !link.StartsWith('#')).Distinct())
        {
            Assert.Equal((link, HttpStatusCode.OK),
                (link, (await http.GetAsync($"http://127.0.0.1:{port}/{link}", TestContext.Current.CancellationToken)).StatusCode));
        }
    }

    [Fact]
    public async Task An_empty_home_is_told_what_to_do_next()
    {
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "port": {{port}} } }""");
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");

        Assert.Contains("set-up/start", await Page("/"), StringComparison.Ordinal);
        Assert.Contains("set-up/start", await Page("/spots"), StringComparison.Ordinal);
        Assert.Contains("seeds/sow", await Page("/batches"), StringComparison.Ordinal);
        Assert.Contains("seeds/add", await Page("/seeds"), StringComparison.Ordinal);
        Assert.Contains("set-up/start", await Page("/seeds/sow"), StringComparison.Ordinal);
        Assert.Contains("There is no batch Z9", await Page("/batches/Z9"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_page_comes_compressed_and_an_unknown_address_gets_one()
    {
        folder.Write("chamber.json", $$"""{ "broker": { "listen": [{ "port": {{FreePort.Next()}} }] }, "page": { "port": {{port}} } }""");
        await using var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        using var ask = new HttpRequestMessage(HttpMethod.Get, $"http://127.0.0.1:{port}/spots");
        ask.Headers.AcceptEncoding.ParseAdd("br");

        using var page = await http.SendAsync(ask, TestContext.Current.CancellationToken);
        using var unknown = await http.GetAsync($"http://127.0.0.1:{port}/no/such/place", TestContext.Current.CancellationToken);

        Assert.Equal(["br"], page.Content.Headers.ContentEncoding);
        Assert.Equal((HttpStatusCode.NotFound, "text/html"), (unknown.StatusCode, unknown.Content.Headers.ContentType?.MediaType));
    }

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [GeneratedRegex("<a [^>]*href=\"([^\"]*)\"")]
    private static partial Regex Links();

    private async Task<string> Page(string path) =>
        WebUtility.HtmlDecode(await http.GetStringAsync($"http://127.0.0.1:{port}{path}", TestContext.Current.CancellationToken));

    private async Task Do(params string[] arguments)
    {
        var result = await ChamberProcess.Run([.. arguments, "--data", folder.Path]);
        Assert.True(result.ExitCode == 0, result.Errors);
    }
}

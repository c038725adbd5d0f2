using System.Net;
using System.Net.Http.Json;
using System.Text.RegularExpressions;

namespace Chamber.Club.Tests.Pages;

/// <summary>Somebody with a browser that keeps cookies and runs no script.</summary>
internal sealed partial class Visitor(string address, CookieContainer? cookies = null) : IDisposable
{
    private readonly HttpClientHandler handler = new()
    {
        AllowAutoRedirect = false,
        UseCookies = true,
        CookieContainer = cookies ?? new(),
    };
    private HttpClient? http;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public CookieContainer Cookies => handler.CookieContainer;

    private HttpClient Http => http ??= new(handler, disposeHandler: false) { BaseAddress = new(address) };

    /// <summary>What a program shows; null for a person.</summary>
    public string? Bearer
    {
        set => Http.DefaultRequestHeaders.Authorization = value is null ? null : new("Bearer", value);
    }

    /// <summary>A page, by the status with which it came.</summary>
    public async Task<(HttpStatusCode Status, string Text)> Get(string path)
    {
        using var answer = await Http.GetAsync(new Uri(path, UriKind.Relative), Stop);
        return (answer.StatusCode, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Stop)));
    }

    /// <summary>Asks for something once more, as somebody who has it already.</summary>
    public async Task<HttpStatusCode> Again(string path)
    {
        using var first = await Http.GetAsync(new Uri(path, UriKind.Relative), Stop);
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(path, UriKind.Relative));
        request.Headers.IfNoneMatch.Add(first.Headers.ETag!);
        using var second = await Http.SendAsync(request, Stop);
        return second.StatusCode;
    }

    /// <summary>Fills in a form of a page and sends it.</summary>
    /// <returns>Its status, where it leads, and its text.</returns>
    public async Task<(HttpStatusCode Status, string? To, string Text)> Send(string page, string form, params (string, string)[] fields)
    {
        using var shown = await Http.GetAsync(new Uri(page, UriKind.Relative), Stop);
        var token = Token().Match(await shown.Content.ReadAsStringAsync(Stop)).Groups["token"].Value;
        using var filled = new FormUrlEncodedContent(
            fields.Append(("__RequestVerificationToken", token)).Select(field => KeyValuePair.Create(field.Item1, field.Item2)));
        using var answer = await Http.PostAsync(new Uri(form, UriKind.Relative), filled, Stop);
        return (answer.StatusCode, answer.Headers.Location?.OriginalString,
            WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Stop)));
    }

    /// <summary>Calls the API, as a script of the page does.</summary>
    public async Task<(HttpStatusCode Status, string? To, string Text)> Call(HttpMethod method, string path, object? body = null)
    {
        using var request = new HttpRequestMessage(method, new Uri(path, UriKind.Relative))
        {
            Content = body is null ? null : JsonContent.Create(body),
        };
        using var answer = await Http.SendAsync(request, Stop);
        return (answer.StatusCode, answer.Headers.Location?.OriginalString, await answer.Content.ReadAsStringAsync(Stop));
    }

    /// <summary>Sends bytes to the API.</summary>
    public async Task<(HttpStatusCode Status, string? To)> Post(string path, byte[] body, string type)
    {
        using var content = new ByteArrayContent(body);
        content.Headers.ContentType = new(type);
        using var answer = await Http.PostAsync(new Uri(path, UriKind.Relative), content, Stop);
        return (answer.StatusCode, answer.Headers.Location?.OriginalString);
    }

    /// <summary>Comes in by a link for the first time. The form is sent even where its page shows none.</summary>
    public Task<(HttpStatusCode Status, string? To, string Text)> ComeIn(string secret, string name) => Send(
        "/sign-in", $"/invitation/{secret}", ("name", name), ("password", Password));

    public Task<(HttpStatusCode Status, string? To, string Text)> SignIn(string name, string password = Password) =>
        Send("/sign-in", "/sign-in", ("name", name), ("password", password));

    public void Dispose()
    {
        http?.Dispose();
        handler.Dispose();
    }

    public const string Password = "four plain short words";

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"(?<token>[^\"]+)\"")]
    private static partial Regex Token();
}

namespace Chamber.Service.Access;

/// <summary>
/// The headers that every answer carries. Scripts come from this server's own files only, never from the page itself
/// (Content Security Policy Level 3); nothing may frame the page; nothing is sniffed; the address stays here.
/// </summary>
internal static class SecurityHeaders
{
    // Styles may be inline: the chart library sets them on its own elements, and a style cannot run code.
    private const string Policy = "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
        + "object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'; connect-src 'self'";

    /// <param name="headers">Of the answer.</param>
    /// <param name="host">By which name the page was asked for: its live connection goes there too, and nowhere else.</param>
    public static void Add(IHeaderDictionary headers, HostString host)
    {
        // Not every browser takes 'self' for the scheme of a live connection; which of the two it is a proxy may hide.
        headers.ContentSecurityPolicy = IsPlain(host.Value) ? $"{Policy} ws://{host.Value} wss://{host.Value}" : Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()";
    }

    // Whatever else the request says its host is must not become a part of the policy.
    private static bool IsPlain(string? host) =>
        host is { Length: > 0 } && host.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '.' or '-' or ':' or '[' or ']');
}

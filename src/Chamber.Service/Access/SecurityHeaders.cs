namespace Chamber.Service.Access;

/// <summary>
/// The headers that every answer carries. Scripts come from this server's own files only, never from the page itself
/// (Content Security Policy Level 3); nothing may frame the page; nothing is sniffed; the address stays here.
/// </summary>
internal static class SecurityHeaders
{
    // Styles may be inline: the chart library sets them on its own elements, and a style cannot run code.
    private const string Policy =
        "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self' ws: wss:; "
        + "object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";

    public static void Add(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()";
    }
}

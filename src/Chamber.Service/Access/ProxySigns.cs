namespace Chamber.Service.Access;

/// <summary>
/// The signs by which a request shows that it came through a proxy: then the address it comes from is the proxy's and says nothing of who
/// asks. RFC 7239 (Forwarded), RFC 9110 section 7.6.3 (Via), the customary X- headers, and the old version of HTTP that a plain
/// proxy speaks while every browser has a newer one.
/// </summary>
internal static class ProxySigns
{
    private const string CustomaryPrefix = "X-Forwarded";

    private static readonly string[] Headers = ["Forwarded", "Via", "X-Real-IP", "X-Client-IP", "X-Original-Host", "X-Original-URL",
        "True-Client-IP", "X-ProxyUser-Ip"];

    public static bool In(HttpRequest request) =>
        HttpProtocol.IsHttp10(request.Protocol)
        || Headers.Any(request.Headers.ContainsKey)
        || request.Headers.Keys.Any(name => name.StartsWith(CustomaryPrefix, StringComparison.OrdinalIgnoreCase));
}

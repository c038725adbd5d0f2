using System.Globalization;
using System.Net;

namespace Chamber.Service.Configuration;

/// <summary>Where the page is, from the settings.</summary>
internal static class PageAddress
{
    /// <summary>Null when there is none.</summary>
    public static string? Of(PageSettings page) => page.On
        ? string.Create(CultureInfo.InvariantCulture, $"{(IsPlain(page) ? "http" : "https")}://{page.Address}:{page.Port}")
        : null;

    /// <summary>Whether it speaks HTTP without TLS: only on this machine.</summary>
    public static bool IsPlain(PageSettings page) => page.Certificate is null && IPAddress.IsLoopback(IPAddress.Parse(page.Address));
}

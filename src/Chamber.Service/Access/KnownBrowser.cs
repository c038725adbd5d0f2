using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;

namespace Chamber.Service.Access;

/// <summary>
/// A browser in which somebody has signed in before, known by a sealed cookie that outlives signing out. It lets nobody in; it only has its
/// own count of wrong passwords, so that whoever guesses elsewhere keeps no owner out of the browser that they use.
/// </summary>
internal static class KnownBrowser
{
    public const string CookieName = "chamber-browser";

    private static readonly TimeSpan Kept = TimeSpan.FromDays(400);

    /// <summary>The browser's own number, if this person has signed in there before; null otherwise.</summary>
    public static string? Of(HttpContext context, string name)
    {
        try
        {
            return context.Request.Cookies[CookieName] is { } cookie
                && Seal(context).Unprotect(cookie).Split('\n') is [var number, var known]
                && string.Equals(known, name.Trim(), StringComparison.OrdinalIgnoreCase) ? number : null;
        }
        catch (CryptographicException)
        {
            // Made up, or sealed by keys that are gone.
            return null;
        }
    }

    /// <summary>Somebody has signed in: the browser is known from now on.</summary>
    public static void Remember(HttpContext context, string name) => context.Response.Cookies.Append(CookieName,
        Seal(context).Protect($"{Of(context, name) ?? RandomNumberGenerator.GetHexString(16)}\n{name}"),
        new() { HttpOnly = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, MaxAge = Kept });

    private static IDataProtector Seal(HttpContext context) =>
        context.RequestServices.GetRequiredService<IDataProtectionProvider>().CreateProtector("chamber.known-browser");
}

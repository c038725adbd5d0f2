using System.Net;

namespace Chamber.Service.Configuration;

/// <summary>The name or address of a machine, by itself.</summary>
internal static class HostName
{
    /// <summary>Why a text is none, as what follows the key, with the fix; null when it is one.</summary>
    /// <param name="text">As somebody wrote it.</param>
    /// <param name="portKey">The setting that the port belongs in.</param>
    /// <param name="example">A good one.</param>
    public static string? WhyNot(string text, string portKey, string example)
    {
        if (Uri.CheckHostName(text.Trim().Trim('[', ']')) is not UriHostNameType.Unknown and not UriHostNameType.Basic)
        {
            return null;
        }

        return text.Contains("://", StringComparison.Ordinal)
            ? $"\"{text}\" is an address of the web: write the name of the machine alone, such as \"{example}\"."
            : text.LastIndexOf(':') is > 0 and var colon && text[(colon + 1)..].All(char.IsAsciiDigit)
                ? $"\"{text}\" has its port with it: write \"{text[..colon]}\" here, and {text[(colon + 1)..]} in {portKey}."
            : $"\"{text}\" is not the name of a machine: write it as \"{example}\" or as an IP address.";
    }

    /// <summary>What is remarkable about where an address leads, in words: nobody beyond this machine, or its own wire, answers there. Null
    /// where nothing is.</summary>
    public static string? NearTo(Uri address) =>
        address.IsLoopback ? "this machine"
        : IPAddress.TryParse(address.Host.Trim('[', ']'), out var ip) && IsLinkLocal(ip) ? "a link-local address"
        : null;

    // RFC 3927 and RFC 4291, section 2.5.6; 0.0.0.0 leads to this machine too, and none of them to a server of the home.
    private static bool IsLinkLocal(IPAddress ip) =>
        ip.IsIPv6LinkLocal || ip.GetAddressBytes() is [169, 254, _, _] or [0, _, _, _];
}

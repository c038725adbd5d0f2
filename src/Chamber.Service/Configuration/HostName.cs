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
}

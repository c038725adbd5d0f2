using System.Text.RegularExpressions;

namespace Chamber.Testing;

/// <summary>Links between documents in Markdown: each leads to a file, and its anchor to a heading there.</summary>
public static partial class MarkdownLinks
{
    /// <summary>Those that lead nowhere, each with its document. Addresses on the network are passed over.</summary>
    /// <param name="root">The folder of all documents.</param>
    /// <param name="documents">Their paths in it.</param>
    public static IEnumerable<string> Dead(string root, IEnumerable<string> documents) =>
        from path in documents
        from Match link in Link().Matches(File.ReadAllText(Path.Combine(root, path)))
        let target = link.Groups["target"].Value
        where !target.Contains("://", StringComparison.Ordinal) && !target.StartsWith("mailto:", StringComparison.Ordinal)
        where !Leads(root, path, target)
        select $"{path}: {target}";

    private static bool Leads(string root, string from, string target)
    {
        var parts = target.Split('#', 2);
        var path = Path.Combine(root, parts[0].Length == 0 ? from : Path.Combine(Path.GetDirectoryName(from)!, parts[0]));
        return Path.Exists(path) && (parts.Length == 1 || Headings(path).Contains(parts[1]));
    }

    private static IEnumerable<string> Headings(string path) =>
        from line in File.ReadAllLines(path)
        where line.StartsWith('#')
        select NotInAnchor().Replace(line.TrimStart('#').Trim().ToLowerInvariant(), "").Replace(' ', '-');

    [GeneratedRegex(@"\]\((?<target>[^)\s]+)(\s+""[^""]*"")?\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"[^\p{L}\p{N} _-]")]
    private static partial Regex NotInAnchor();
}

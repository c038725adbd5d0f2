using System.Text;
using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>The command lines that documents show, as somebody would type them.</summary>
internal static partial class DocumentedLines
{
    /// <summary>The documents in the order in which they are found, each with its lines in the order of the page.</summary>
    public static IEnumerable<(string Page, IReadOnlyList<string> Lines)> Pages() =>
        from path in Directory.EnumerateFiles(SourceTree.Root, "*.md", SearchOption.TopDirectoryOnly)
            .Concat(Directory.EnumerateFiles(SourceTree.Path("docs"), "*.md", SearchOption.AllDirectories))
            .Concat(Directory.EnumerateFiles(SourceTree.Path("demo-data"), "*.md", SearchOption.AllDirectories))
            .Order(StringComparer.Ordinal)
        let lines = Of(File.ReadAllText(path)).ToList()
        where lines.Count > 0
        select (Path.GetRelativePath(SourceTree.Root, path), (IReadOnlyList<string>)lines);

    /// <summary>What is typed after the program's name, in each code span and code block of a document.</summary>
    public static IEnumerable<string> Of(string document) =>
        from code in Code().Matches(document)
        from line in code.Groups["code"].Value.Split('\n')
        from part in Parts().Split(line)
        let typed = Typed().Match(part)
        where typed.Success
        select typed.Groups["line"].Value.Trim();

    /// <summary>Splits as a shell does: at blanks that no quotes enclose.</summary>
    public static string[] Words(string line)
    {
        List<string> words = [];
        var (word, quote) = (new StringBuilder(), '\0');
        foreach (var letter in line + " ")
        {
            if (quote == '\0' && letter is '"' or '\'')
            {
                quote = letter;
            }
            else if (letter == quote)
            {
                quote = '\0';
            }
            else if (quote != '\0' || letter != ' ')
            {
                word.Append(letter);
            }
            else if (word.Length > 0)
            {
                words.Add(word.ToString());
                word.Clear();
            }
        }

        return [.. words];
    }

    // A block first, since the fences of one look like spans.
    [GeneratedRegex(@"^ *```[^\n]*\n(?<code>.*?)^ *```|`(?<code>[^`\n]+)`", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Code();

    [GeneratedRegex(@" && | \| | [<>] | +# |; ")]
    private static partial Regex Parts();

    [GeneratedRegex(@"^\s*(\$ )?(sudo (-u \S+ )?)?(chamber|dotnet run .*--project src/Chamber\.Service.* --) (?<line>[a-z-].*)$")]
    private static partial Regex Typed();
}

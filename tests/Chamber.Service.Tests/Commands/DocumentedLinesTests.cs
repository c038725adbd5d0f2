using System.Text;
using System.Text.RegularExpressions;
using Chamber.Service.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>Every command line that a document or a help shows can be typed as it stands.</summary>
public sealed partial class DocumentedLinesTests
{
    private const int LinesAtLeast = 120;

    [Fact]
    public void Every_documented_line_is_one_that_the_program_takes()
    {
        var lines = Documented().Concat(Examples()).ToList();
        Assert.True(lines.Count >= LinesAtLeast, $"Only {lines.Count} lines were found: are the documents still where this test looks?");
        var refused = from line in lines let mend = Refusal(line.Text) where mend is not null select $"{line.Where}: {line.Text}\n    {mend}";
        Assert.True(!refused.Any(), string.Join('\n', refused));
    }

    [Theory]
    [InlineData("Ask `chamber spots --crop tomato`, or `nothing`.", "spots --crop tomato")]
    [InlineData("```sh\n$ chamber about   # where\n```", "about")]
    [InlineData("```sh\ndotnet run --project src/Chamber.Service -- demo\n```", "demo")]
    [InlineData("```sh\nchamber export --out a && chamber look T1 3 --note \"two pale\" > out.txt\n```", "export --out a|look T1 3 --note \"two pale\"")]
    [InlineData("The chamber is warm; `chamber/kitchen/reading` is a topic.", "")]
    public void Lines_are_found_in_prose_and_in_code(string document, string lines) =>
        Assert.Equal(lines, string.Join('|', LinesOf(document)));

    [Theory]
    [InlineData("spots --corp tomato")]
    [InlineData("forecast --crop tomato --at twenty")]
    [InlineData("calibrate")]
    public void A_line_that_the_program_refuses_is_noticed(string line) => Assert.NotNull(Refusal(line));

    private static IEnumerable<(string Where, string Text)> Documented() =>
        from path in Directory.EnumerateFiles(SourceTree.Root, "*.md", SearchOption.TopDirectoryOnly)
            .Concat(Directory.EnumerateFiles(SourceTree.Path("docs"), "*.md", SearchOption.AllDirectories))
            .Concat(Directory.EnumerateFiles(SourceTree.Path("demo-data"), "*.md", SearchOption.AllDirectories))
        from line in LinesOf(File.ReadAllText(path))
        select (Path.GetRelativePath(SourceTree.Root, path), line);

    private static IEnumerable<(string Where, string Text)> Examples() =>
        from verb in CommandReference.Every()
        from example in verb.Examples
        from line in LinesOf($"`{example}`")
        select ($"help of {verb.Name}", line);

    /// <summary>What is typed after the program's name, in each code span and code block of a document.</summary>
    private static IEnumerable<string> LinesOf(string document)
    {
        var prose = Block().Replace(document, string.Empty);
        var code = Block().Matches(document).SelectMany(block => block.Groups["code"].Value.Split('\n'))
            .Concat(Span().Matches(prose).Select(span => span.Groups["code"].Value));
        return code.SelectMany(line => Parts().Split(line)).Select(part => Typed().Match(part)).Where(match => match.Success).Select(match => match.Groups["line"].Value.Trim());
    }

    private static string? Refusal(string line)
    {
        try
        {
            CommandLine.Parse(Words(line));
            return null;
        }
        catch (Exception problem) when (problem is BadInputException or FormatException)
        {
            return problem.Message;
        }
    }

    /// <summary>Splits as a shell does: at blanks that no quotes enclose.</summary>
    private static string[] Words(string line)
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

    [GeneratedRegex(@"^ *```[^\n]*\n(?<code>.*?)^ *```", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Block();

    [GeneratedRegex(@"`(?<code>[^`\n]+)`")]
    private static partial Regex Span();

    [GeneratedRegex(@" && | \| | [<>] | +# |; ")]
    private static partial Regex Parts();

    [GeneratedRegex(@"^\s*(\$ )?(sudo (-u \S+ )?)?(chamber|dotnet run .*--project src/Chamber\.Service.* --) (?<line>[a-z-].*)$")]
    private static partial Regex Typed();
}

using Chamber.Service.Commands;

namespace Chamber.Service.Tests.Commands;

/// <summary>Every command line that a document or a help shows can be typed as it stands.</summary>
public sealed class DocumentedLinesTests
{
    private const int LinesAtLeast = 120;

    [Fact]
    public void Every_documented_line_is_one_that_the_program_takes()
    {
        var lines = Documented().Concat(Examples()).ToList();
        Assert.True(lines.Count >= LinesAtLeast, $"Only {lines.Count} lines were found: are the documents still where this test looks?");
        var refused = from line in lines let fix = Refusal(line.Text)
            where fix is not null select $"{line.Where}: {line.Text}\n    {fix}";
        Assert.True(!refused.Any(), string.Join('\n', refused));
    }

    [Theory]
    [InlineData("Ask `chamber spots --crop tomato`, or `nothing`.", "spots --crop tomato")]
    [InlineData("```sh\n$ chamber about   # where\n```", "about")]
    [InlineData("```sh\ndotnet run --project src/Chamber.Service -- demo\n```", "demo")]
    [InlineData("```sh\nchamber export --out a && chamber look T1 3 --note \"two pale\" > out.txt\n```",
        "export --out a|look T1 3 --note \"two pale\"")]
    [InlineData("The chamber is warm; `chamber/kitchen/reading` is a topic.", "")]
    public void Lines_are_found_in_prose_and_in_code(string document, string lines) =>
        Assert.Equal(lines, string.Join('|', DocumentedLines.Of(document)));

    [Theory]
    [InlineData("spots --corp tomato")]
    [InlineData("forecast --crop tomato --at twenty")]
    [InlineData("calibrate offset")]
    public void A_line_that_the_program_refuses_is_noticed(string line) => Assert.NotNull(Refusal(line));

    private static IEnumerable<(string Where, string Text)> Documented() =>
        DocumentedLines.Pages().SelectMany(page => page.Lines.Select(line => (page.Page, line)));

    private static IEnumerable<(string Where, string Text)> Examples() =>
        from verb in CommandReference.Every()
        from example in verb.Examples
        from line in DocumentedLines.Of($"`{example}`")
        select ($"help of {verb.Name}", line);

    private static string? Refusal(string line)
    {
        try
        {
            CommandLine.Parse(DocumentedLines.Words(line));
            return null;
        }
        catch (Exception problem) when (problem is BadInputException or FormatException)
        {
            return problem.Message;
        }
    }
}

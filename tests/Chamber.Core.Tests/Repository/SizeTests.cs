using Chamber.Testing;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;
using Microsoft.CodeAnalysis.Text;

namespace Chamber.Core.Tests.Repository;

public sealed class SizeTests
{
    private const int FileLinesMax = 400;
    private const int MethodLinesMax = 60;
    private const int MethodLinesUsual = 20;
    private const int LineWidthMax = 140;
    private const int FolderFilesMax = 40;

    [Fact]
    public void No_file_is_longer_than_one_can_hold_in_mind()
    {
        var tooLong = Sources.CSharp
            .Select(file => (file.Path, Lines: file.Root.GetText().Lines.Count))
            .Where(file => file.Lines > FileLinesMax)
            .Select(file => $"{file.Path}: {file.Lines} lines, {FileLinesMax} at most; split it by concept");

        Sources.ExpectNone(tooLong);
    }

    [Fact]
    public void No_folder_holds_more_files_than_one_can_look_over()
    {
        var crowded =
            from file in Sources.All
            where file.StartsWith("src/", StringComparison.Ordinal) || file.StartsWith("tests/Chamber.", StringComparison.Ordinal)
            group file by Path.GetDirectoryName(file)! into folder
            where folder.Count() > FolderFilesMax
            select $"{folder.Key}: {folder.Count()} files, {FolderFilesMax} at most; give it rooms";

        Sources.ExpectNone(crowded);
    }

    // What is mostly the text of one literal (a query, a body of JSON) stays in one piece.
    [Fact]
    public void No_line_is_wider_than_a_page()
    {
        var tooWide =
            from file in Sources.CSharp
            let text = file.Root.GetText()
            from line in text.Lines
            where line.Span.Length > LineWidthMax && line.Span.Length - LiteralIn(file.Root, line.Span) > LineWidthMax / 2
            select $"{file.Path}:{line.LineNumber + 1}: {line.Span.Length} letters, {LineWidthMax} at most; break it";

        Sources.ExpectNone(tooWide);
    }

    // The same for the page: its markup, scripts and styles. A drawing or a sentence in quotes stays in one piece here too.
    [Theory]
    [InlineData("*.razor")]
    [InlineData("*.js")]
    [InlineData("*.css")]
    public void No_line_of_the_page_is_wider_than_a_page(string pattern)
    {
        var files = Directory.EnumerateFiles(SourceTree.Path("src"), pattern, SearchOption.AllDirectories).ToList();
        var tooWide =
            from file in files
            from line in File.ReadLines(file).Select((text, i) => (Text: text, Number: i + 1))
            where line.Text.Length > LineWidthMax && line.Text.Length - LongestQuoted(line.Text) > LineWidthMax / 2
            select $"{Path.GetRelativePath(SourceTree.Root, file)}:{line.Number}: {line.Text.Length} letters, {LineWidthMax} at most; break it";

        Assert.NotEmpty(files);
        Sources.ExpectNone(tooWide);
    }

    // An escaped quote ends nothing.
    private static int LongestQuoted(string line) =>
        line.Replace("\\\"", "  ", StringComparison.Ordinal).Split('"').Where((_, i) => i % 2 == 1).Select(text => text.Length)
            .DefaultIfEmpty().Max();

    private static int LiteralIn(SyntaxNode root, TextSpan line) =>
        root.DescendantNodes(line)
            .Where(node => node is InterpolatedStringExpressionSyntax || node.RawKind == (int)SyntaxKind.StringLiteralExpression)
            .Select(node => node.Span.Overlap(line)?.Length ?? 0)
            .DefaultIfEmpty().Max();

    // Parts of a class would hide how much one has to know of it.
    [Fact]
    public void No_type_is_longer_than_a_file_may_be_over_all_its_files()
    {
        var tooLong =
            from file in Sources.CSharp
            from type in file.Root.DescendantNodes().OfType<TypeDeclarationSyntax>()
            where type.Modifiers.Any(word => word.ValueText == "partial")
            group (file.Path, Lines: LinesOf(type)) by NameOf(type) into parts
            where parts.Select(part => part.Path).Distinct().Count() > 1 && parts.Sum(part => part.Lines) > FileLinesMax
            select $"{parts.Key}: {parts.Sum(part => part.Lines)} lines in {parts.Count()} parts, {FileLinesMax} at most; "
                + $"split it by concept";

        Sources.ExpectNone(tooLong);
    }

    private static string NameOf(TypeDeclarationSyntax type) =>
        $"{type.Ancestors().OfType<BaseNamespaceDeclarationSyntax>().FirstOrDefault()?.Name}.{type.Identifier.Text}";

    [Fact]
    public void No_method_is_longer_than_a_screen()
    {
        var tooLong = Methods("")
            .Where(method => method.Lines > MethodLinesMax)
            .Select(method => $"{method.Place}: {method.Lines} lines, {MethodLinesMax} at most");

        Sources.ExpectNone(tooLong);
    }

    [Theory]
    [InlineData("src/")]
    [InlineData("tests/")]
    public void Nine_methods_in_ten_are_short(string folder)
    {
        var lengths = Methods(folder).Select(method => method.Lines).Order().ToList();

        Assert.InRange(lengths[(int)(0.9 * (lengths.Count - 1))], 1, MethodLinesUsual);
    }

    private static IEnumerable<(string Place, int Lines)> Methods(string folder) =>
        from file in Sources.CSharp
        where file.Path.StartsWith(folder, StringComparison.Ordinal)
        from node in file.Root.DescendantNodes()
        where node is BaseMethodDeclarationSyntax or LocalFunctionStatementSyntax or AccessorDeclarationSyntax { Body: not null }
        select (Sources.Place(file.Path, node), LinesOf(node));

    // From the signature to the closing brace; attributes and comments before it are not the method.
    private static int LinesOf(SyntaxNode node)
    {
        var first = node.ChildNodesAndTokens().First(child => !child.IsKind(SyntaxKind.AttributeList));
        return node.GetLocation().GetLineSpan().EndLinePosition.Line - first.GetLocation()!.GetLineSpan().StartLinePosition.Line + 1;
    }
}

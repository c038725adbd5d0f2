using Chamber.Testing;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Chamber.Core.Tests.Repository;

/// <summary>The files of the repository as somebody would commit them: build output and fetched packages left out.</summary>
internal static class Sources
{
    private static readonly string[] NotOurs = ["artifacts", "bin", "obj", "node_modules", ".git", ".vs", "TestResults",
        "BenchmarkDotNet.Artifacts"];

    /// <summary>Every file, as a path from the root with forward slashes.</summary>
    public static IReadOnlyList<string> All { get; } = [.. Under(SourceTree.Root).Order(StringComparer.Ordinal)];

    /// <summary>Every C# file with its syntax.</summary>
    public static IReadOnlyList<(string Path, SyntaxNode Root)> CSharp { get; } =
        [.. All.Where(path => path.EndsWith(".cs", StringComparison.Ordinal)).Select(path => (path, Parse(path)))];

    public static string Text(string path) => File.ReadAllText(SourceTree.Path(path));

    /// <summary>The line of a syntax node, from 1, after its path: <c>src/A.cs:12</c>.</summary>
    public static string Place(string path, SyntaxNode node) => $"{path}:{node.GetLocation().GetLineSpan().StartLinePosition.Line + 1}";

    /// <summary>Fails with every line, since a list cut short hides the rest of the work.</summary>
    public static void ExpectNone(IEnumerable<string> found)
    {
        var lines = found.ToList();
        Assert.True(lines.Count == 0, string.Join('\n', lines));
    }

    private static SyntaxNode Parse(string path) =>
        CSharpSyntaxTree.ParseText(Text(path), new CSharpParseOptions(LanguageVersion.Preview), path).GetRoot();

    private static IEnumerable<string> Under(string folder) =>
        Directory.EnumerateDirectories(folder)
            .Where(child => !NotOurs.Contains(Path.GetFileName(child)))
            .SelectMany(Under)
            .Concat(Directory.EnumerateFiles(folder).Where(file => Path.GetFileName(file) != ".git")
                .Select(file => Path.GetRelativePath(SourceTree.Root, file).Replace('\\', '/')));
}

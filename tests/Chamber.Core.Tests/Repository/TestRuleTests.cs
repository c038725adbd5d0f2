using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Chamber.Core.Tests.Repository;

public sealed partial class TestRuleTests
{
    private const int NameLettersMax = 70;

    /// <summary>Waits go through <see cref="Testing.Wait"/>, which has a bound and says what was awaited.</summary>
    [Fact]
    public void No_test_sleeps_is_skipped_or_asserts_a_time()
    {
        var found =
            from file in Sources.CSharp
            where IsTest(file.Path) && !file.Path.StartsWith("tests/Chamber.Core.Tests/Repository/", StringComparison.Ordinal)
            from line in file.Root.GetText().Lines
            where Forbidden().IsMatch(line.ToString())
            select $"{file.Path}:{line.LineNumber + 1}: {line.ToString().Trim()}";

        Sources.ExpectNone(found);
    }

    [Fact]
    public void Test_names_are_sentences()
    {
        var terse =
            from file in Sources.CSharp
            where IsTest(file.Path)
            from method in file.Root.DescendantNodes().OfType<MethodDeclarationSyntax>()
            where IsTestMethod(method) && method.Identifier.Text.Count(character => character == '_') < 2
            select $"{Sources.Place(file.Path, method)}: {method.Identifier.Text}";

        Sources.ExpectNone(terse);
    }

    [Fact]
    public void Test_names_fit_a_line()
    {
        var tooLong =
            from file in Sources.CSharp
            where IsTest(file.Path)
            from method in file.Root.DescendantNodes().OfType<MethodDeclarationSyntax>()
            where IsTestMethod(method) && method.Identifier.Text.Length > NameLettersMax
            select $"{Sources.Place(file.Path, method)}: {method.Identifier.Text.Length} letters, {NameLettersMax} at most: "
                + method.Identifier.Text;

        Sources.ExpectNone(tooLong);
    }

    private static bool IsTestMethod(MethodDeclarationSyntax method) =>
        method.AttributeLists.SelectMany(list => list.Attributes)
            .Any(attribute => attribute.Name.ToString() is "Fact" or "Theory" or "Property");

    private static bool IsTest(string path) =>
        path.StartsWith("tests/", StringComparison.Ordinal) && path.Contains(".Tests/", StringComparison.Ordinal);

    [GeneratedRegex(
        @"Task\.Delay\(|WaitAsync\(RunningProgram|CancellationTokenSource\(RunningProgram|\bSkip\s*=|Assert\.Skip|SkipUnless|SkipWhen|\bStopwatch\b|PeriodicTimer|SpinWait")]
    private static partial Regex Forbidden();
}

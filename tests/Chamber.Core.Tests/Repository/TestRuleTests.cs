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

    [Fact]
    public void What_asks_R_or_SciPy_is_of_the_whole_tier()
    {
        var unmarked =
            from file in Sources.CSharp
            where IsTest(file.Path)
            from type in file.Root.DescendantNodes().OfType<ClassDeclarationSyntax>()
            where !IsWhole(type.AttributeLists)
            from method in AskingAnOracle(type)
            where IsTestMethod(method) && !IsWhole(method.AttributeLists)
            select $"{Sources.Place(file.Path, method)}: {method.Identifier.Text} needs [Trait(Tier.Name, Tier.Whole)]";

        Sources.ExpectNone(unmarked);
    }

    // Those that ask themselves, and those that call one of them by its name.
    private static IEnumerable<MethodDeclarationSyntax> AskingAnOracle(ClassDeclarationSyntax type)
    {
        var methods = type.Members.OfType<MethodDeclarationSyntax>().ToList();
        var asking = methods.Where(method => OracleCall().IsMatch(method.ToString())).ToList();
        var names = asking.Select(method => method.Identifier.Text).ToHashSet();
        return asking.Concat(methods.Where(method => method.DescendantNodes().OfType<InvocationExpressionSyntax>()
            .Any(call => call.Expression is IdentifierNameSyntax name && names.Contains(name.Identifier.Text)))).Distinct();
    }

    private static bool IsWhole(IEnumerable<AttributeListSyntax> attributes) =>
        attributes.Any(list => list.ToString().Contains("Tier.Whole", StringComparison.Ordinal));

    private static bool IsTestMethod(MethodDeclarationSyntax method) =>
        method.AttributeLists.SelectMany(list => list.Attributes)
            .Any(attribute => attribute.Name.ToString() is "Fact" or "Theory" or "Property");

    private static bool IsTest(string path) =>
        path.StartsWith("tests/", StringComparison.Ordinal) && path.Contains(".Tests/", StringComparison.Ordinal);

    [GeneratedRegex(
        @"Task\.Delay\(|WaitAsync\(RunningProgram|CancellationTokenSource\(RunningProgram|\bSkip\s*=|Assert\.Skip|SkipUnless|SkipWhen|\bStopwatch\b|PeriodicTimer|SpinWait")]
    private static partial Regex Forbidden();

    [GeneratedRegex(@"\bOracle\.(R|SciPy)\(")]
    private static partial Regex OracleCall();
}

using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace Chamber.Core.Tests.Repository;

public sealed class ShapeTests
{
    [Fact]
    public void Every_public_type_of_Core_says_what_it_is()
    {
        var silent =
            from file in Sources.CSharp
            where file.Path.StartsWith("src/Chamber.Core/", StringComparison.Ordinal)
            from type in file.Root.DescendantNodes().OfType<BaseTypeDeclarationSyntax>()
            where type.Modifiers.Any(SyntaxKind.PublicKeyword) && !HasSummary(type)
            select $"{Sources.Place(file.Path, type)}: {type.Identifier.Text} needs a summary";

        Sources.ExpectNone(silent);
    }

    [Fact]
    public void Classes_are_sealed_static_or_abstract()
    {
        var open =
            from file in Sources.CSharp
            where file.Path.StartsWith("src/", StringComparison.Ordinal)
            from type in file.Root.DescendantNodes().OfType<TypeDeclarationSyntax>()
            where type is ClassDeclarationSyntax
                || (type is RecordDeclarationSyntax record && !record.ClassOrStructKeyword.IsKind(SyntaxKind.StructKeyword))
            where !type.Modifiers.Any(
                word => word.Kind() is SyntaxKind.SealedKeyword or SyntaxKind.StaticKeyword or SyntaxKind.AbstractKeyword)
            where !IsPartOfAnother(type)
            select $"{Sources.Place(file.Path, type)}: seal {type.Identifier.Text}";

        Sources.ExpectNone(open);
    }

    [Fact]
    public void A_test_file_holds_one_class_of_its_name_in_the_folder_of_what_it_tests()
    {
        var astray =
            from file in Sources.CSharp
            where file.Path.StartsWith("tests/", StringComparison.Ordinal) && file.Path.EndsWith("Tests.cs", StringComparison.Ordinal)
            let name = Path.GetFileNameWithoutExtension(file.Path).Split('.')[0]
            let classes = file.Root.DescendantNodes().OfType<ClassDeclarationSyntax>()
                .Where(type => type.Identifier.Text.EndsWith("Tests", StringComparison.Ordinal)).ToList()
            where classes.Count != 1 || classes[0].Identifier.Text != name || !MirrorsCore(file.Path)
            select $"{file.Path}: one class {name}, in a folder that Core has too";

        Sources.ExpectNone(astray);
    }

    [Fact]
    public void A_field_of_the_page_is_bound_so_that_late_answers_undo_nothing()
    {
        var unbound =
            from path in Sources.All
            where path.EndsWith(".razor", StringComparison.Ordinal) && !path.EndsWith("/OneAnswer.razor", StringComparison.Ordinal)
            where Sources.Text(path).Contains("@onchange", StringComparison.Ordinal)
            select $"{path}: take @bind, with :get and :set where something follows, or OneOf for radio buttons";

        Sources.ExpectNone(unbound);
    }

    [Fact]
    public void No_thread_waits_for_what_a_task_comes_to()
    {
        var waits =
            from file in Sources.CSharp
            where file.Path.StartsWith("src/", StringComparison.Ordinal)
            from call in file.Root.DescendantNodes().OfType<InvocationExpressionSyntax>()
            let name = (call.Expression as MemberAccessExpressionSyntax)?.Name.Identifier.Text
            where name is "RunSynchronously" or "WaitAll" or "WaitAny"
                || (name is "GetResult" or "Wait" && call.ArgumentList.Arguments.Count == 0)
            select $"{Sources.Place(file.Path, call)}: await it";

        Sources.ExpectNone(waits);
    }

    private static bool MirrorsCore(string path)
    {
        var folder = Path.GetDirectoryName(path)!;
        return !folder.StartsWith("tests/Chamber.Core.Tests/", StringComparison.Ordinal)
            || folder == "tests/Chamber.Core.Tests/Repository"
            || Directory.Exists(Testing.SourceTree.Path("src/Chamber.Core", Path.GetRelativePath("tests/Chamber.Core.Tests", folder)));
    }

    private static bool HasSummary(SyntaxNode type) =>
        type.GetLeadingTrivia().Any(trivia => trivia.GetStructure() is DocumentationCommentTriviaSyntax comment
            && comment.Content.OfType<XmlElementSyntax>().Any(element => element.StartTag.Name.ToString() == "summary"));

    // Of a class in several parts one part says that it is sealed; a generated part of a page cannot.
    private static bool IsPartOfAnother(TypeDeclarationSyntax type) => type.Modifiers.Any(SyntaxKind.PartialKeyword);
}

using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using Mono.Cecil;

namespace Chamber.Core.Tests.Repository;

/// <summary>One folder refers to another, by one type of each.</summary>
/// <param name="From">The folder that refers, as a namespace.</param>
/// <param name="To">The folder that is referred to.</param>
/// <param name="Type">A type in the one.</param>
/// <param name="Target">What it refers to in the other.</param>
internal readonly record struct FolderArrow(string From, string To, string Type, string Target)
{
    public override string ToString() => $"{From} -> {To} ({Type} refers to {Target})";
}

/// <summary>
/// Which folder (namespace) of an assembly refers to which: from the compiled code, pages included, and from the using directives,
/// since a constant leaves no trace in compiled code.
/// </summary>
internal static class FolderArrows
{
    private static readonly ConcurrentDictionary<string, IReadOnlyList<FolderArrow>> Known = new();

    /// <summary>Every arrow of an assembly, each once, with the first pair of types as its witness.</summary>
    /// <param name="project">Its project, such as <c>Chamber.Core</c>.</param>
    /// <param name="file">The file that is made of it.</param>
    public static IReadOnlyList<FolderArrow> Of(string project, string file) => Known.GetOrAdd(project, _ => Read(project, file));

    private static IReadOnlyList<FolderArrow> Read(string project, string file)
    {
        using var module = ModuleDefinition.ReadModule(Made(project, file));
        return [.. module.Types.Where(type => IsOurs(type.Namespace, project)).SelectMany(type => OfType(type, project))
            .Concat(Usings(project))
            .OrderBy(arrow => arrow.Type, StringComparer.Ordinal).ThenBy(arrow => arrow.Target, StringComparer.Ordinal)
            .DistinctBy(arrow => (arrow.From, arrow.To))
            .OrderBy(arrow => arrow.From, StringComparer.Ordinal).ThenBy(arrow => arrow.To, StringComparer.Ordinal)];
    }

    /// <summary>What the types of some folders of an assembly mention, pair by pair.</summary>
    public static IReadOnlyList<(string Folder, string Type, string Target)> Mentioned(string project, string file, params string[] folders)
    {
        using var module = ModuleDefinition.ReadModule(Made(project, file));
        return [.. from type in module.Types
            where folders.Contains(type.Namespace)
            from target in TypeReferences.Of(type)
            select (type.Namespace, type.Name, target.FullName)];
    }

    /// <summary>The folders that lie on a circle, with a way round; empty when there is none.</summary>
    public static IReadOnlyList<FolderArrow> Circle(IReadOnlyList<FolderArrow> arrows)
    {
        var next = arrows.ToLookup(arrow => arrow.From);
        foreach (var start in arrows.Select(arrow => arrow.From).Distinct())
        {
            if (WayBack(start, next) is { } way)
            {
                return way;
            }
        }

        return [];
    }

    // Breadth first, so that the circle that is printed is the shortest through its first folder.
    private static List<FolderArrow>? WayBack(string start, ILookup<string, FolderArrow> next)
    {
        var ways = new Queue<List<FolderArrow>>(next[start].Select(arrow => new List<FolderArrow> { arrow }));
        var seen = new HashSet<string>();
        while (ways.TryDequeue(out var way))
        {
            if (way[^1].To == start)
            {
                return way;
            }

            if (seen.Add(way[^1].To))
            {
                foreach (var arrow in next[way[^1].To])
                {
                    ways.Enqueue([.. way, arrow]);
                }
            }
        }

        return null;
    }

    // Where the build puts it: beside the output of these tests.
    private static string Made(string project, string file)
    {
        var here = new DirectoryInfo(AppContext.BaseDirectory);
        var path = Path.Combine(here.Parent!.Parent!.FullName, project, here.Name, file);
        Assert.True(File.Exists(path), $"{path} is not built: dotnet build Chamber.sln");
        return path;
    }

    private static bool IsOurs(string space, string project) =>
        space == project || space.StartsWith(project + ".", StringComparison.Ordinal);

    private static IEnumerable<FolderArrow> OfType(TypeDefinition type, string project) =>
        from target in TypeReferences.Of(type)
        where IsOurs(target.Namespace, project) && target.Namespace != type.Namespace
        select new FolderArrow(type.Namespace, target.Namespace, Plain(type.Name), Plain(target.Name));

    private static IEnumerable<FolderArrow> Usings(string project) =>
        from path in Sources.All
        where path.StartsWith($"src/{project}/", StringComparison.Ordinal) && path.EndsWith(".cs", StringComparison.Ordinal)
        let folder = Path.GetDirectoryName(path)!["src/".Length..].Replace('/', '.')
        from Match used in Regex.Matches(Sources.Text(path), @"^using (static )?([\w.]+);", RegexOptions.Multiline)
        let to = used.Groups[1].Success ? Parent(used.Groups[2].Value) : used.Groups[2].Value
        where IsOurs(to, project) && to != folder
        select new FolderArrow(folder, to, Path.GetFileName(path), "it by a using directive");

    // A static using names a type.
    private static string Parent(string type) => type[..type.LastIndexOf('.')];

    // Without the number of type parameters.
    private static string Plain(string name) => name.Split('`')[0];
}

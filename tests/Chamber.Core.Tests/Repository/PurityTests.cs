using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using Chamber.Core.Climate;

namespace Chamber.Core.Tests.Repository;

/// <summary>Reads what the built Core refers to, since that cannot be hidden behind a name.</summary>
public sealed class PurityTests
{
    private static readonly string[] ForbiddenNamespaces =
        ["System.Threading.Tasks", "System.Net", "System.Net.Http", "System.Net.Sockets", "Microsoft.Extensions.Logging",
            "System.Diagnostics.Tracing"];

    private static readonly string[] ForbiddenTypes =
        ["System.IO.File", "System.IO.FileInfo", "System.IO.FileStream", "System.IO.Directory", "System.Console",
         "System.TimeProvider", "System.Diagnostics.Stopwatch", "System.Diagnostics.Process", "System.Threading.Thread",
             "System.Threading.Timer", "System.Guid"];

    [Fact]
    public void Core_knows_no_file_socket_clock_log_or_task()
    {
        var found = Read(metadata => metadata.TypeReferences
            .Select(metadata.GetTypeReference)
            .Select(type => (Space: metadata.GetString(type.Namespace), Name: metadata.GetString(type.Name)))
            .Where(type => ForbiddenNamespaces.Contains(type.Space) || ForbiddenTypes.Contains($"{type.Space}.{type.Name}"))
            .Select(type => $"{type.Space}.{type.Name}"));

        Sources.ExpectNone(found);
    }

    [Fact]
    public void Core_asks_nothing_of_its_environment()
    {
        // The compiler lets an iterator ask which thread it runs on; nobody else may ask anything.
        var asked = Read(metadata => metadata.MemberReferences
            .Select(metadata.GetMemberReference)
            .Where(member => IsOf(metadata, member.Parent, "Environment")
                && metadata.GetString(member.Name) != "get_CurrentManagedThreadId")
            .Select(member => "Environment." + metadata.GetString(member.Name)));

        Sources.ExpectNone(asked);
    }

    [Fact]
    public void Core_refers_to_the_framework_and_its_two_libraries_only()
    {
        var others = Read(metadata => metadata.AssemblyReferences
            .Select(handle => metadata.GetString(metadata.GetAssemblyReference(handle).Name))
            .Where(name => !name.StartsWith("System.", StringComparison.Ordinal) && name is not "NodaTime" and not "MathNet.Numerics"));

        Sources.ExpectNone(others);
    }

    private static List<string> Read(Func<MetadataReader, IEnumerable<string>> what)
    {
        using var file = File.OpenRead(typeof(Temperature).Assembly.Location);
        using var image = new PEReader(file);
        return [.. what(image.GetMetadataReader())];
    }

    private static bool IsOf(MetadataReader metadata, EntityHandle parent, string type) =>
        parent.Kind == HandleKind.TypeReference
        && metadata.GetString(metadata.GetTypeReference((TypeReferenceHandle)parent).Name) == type;
}

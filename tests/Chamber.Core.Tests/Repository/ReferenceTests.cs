using System.Xml.Linq;
using Chamber.Testing;

namespace Chamber.Core.Tests.Repository;

public sealed class ReferenceTests
{
    // References point one way only: Mqtt and Storage never meet, and Core knows nobody.
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Chamber.Core"] = [],
        ["Chamber.Storage"] = ["Chamber.Core"],
        ["Chamber.Mqtt"] = ["Chamber.Core"],
        ["Chamber.Service"] = ["Chamber.Core", "Chamber.Storage", "Chamber.Mqtt"],
        ["Chamber.Club"] = ["Chamber.Core", "Chamber.Storage", "Chamber.Mqtt", "Chamber.Service"],
        ["Chamber.Testing"] = ["Chamber.Core"],
        ["Chamber.Core.Tests"] = ["Chamber.Core", "Chamber.Testing"],
        ["Chamber.Service.Tests"] = ["Chamber.Service", "Chamber.Club", "Chamber.Fuzz", "Chamber.Testing"],
        ["Chamber.Club.Tests"] = ["Chamber.Club", "Chamber.Testing"],
        ["Chamber.Browser.Tests"] = ["Chamber.Service", "Chamber.Club", "Chamber.Testing"],
        ["Chamber.Shipping.Tests"] = ["Chamber.Testing"],
        ["Chamber.Benchmarks"] = ["Chamber.Club", "Chamber.Service", "Chamber.Testing"],
        ["Chamber.Fuzz"] = ["Chamber.Service", "Chamber.Testing"],
    };

    public static TheoryData<string> Projects => [.. Sources.All.Where(path => path.EndsWith(".csproj", StringComparison.Ordinal))];

    [Theory]
    [MemberData(nameof(Projects))]
    public void A_project_refers_only_to_those_below_it(string path)
    {
        var name = Path.GetFileNameWithoutExtension(path);

        Assert.Contains(name, Allowed.Keys);
        Assert.Subset(Allowed[name].ToHashSet(), Included(path, "ProjectReference")
            .Select(reference => Path.GetFileNameWithoutExtension(reference.Replace('\\', '/'))).ToHashSet());
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Every_project_belongs_to_the_solution(string path)
    {
        Assert.Contains(path.Replace('/', '\\'), Sources.Text("Chamber.sln"), StringComparison.Ordinal);
    }

    private static IEnumerable<string> Included(string path, string element) =>
        XDocument.Load(SourceTree.Path(path)).Descendants(element).Select(reference => reference.Attribute("Include")!.Value);
}

using System.Text;
using Chamber.Testing;

namespace Chamber.Fuzz;

/// <summary>The samples of tests/cases/fuzz: in a text parted by a line <c>----</c>, in <c>*.hex</c> one a line.</summary>
internal static class Samples
{
    private static readonly string Folder = SourceTree.Path("tests", "cases", "fuzz");

    // Longer ones, which are cases of other tests as well.
    private static readonly Dictionary<string, (string Folder, string Files)> Further = new()
    {
        ["settings.txt"] = ("settings", "every.json"),
        ["watch.txt"] = ("watch", "*.watch"),
    };

    /// <summary>What is well formed, by hand.</summary>
    public static IReadOnlyList<byte[]> Of(string file)
    {
        var path = Path.Combine(Folder, file);
        return Path.GetExtension(file) == ".hex" ? Lines(path)
            : [.. File.ReadAllText(path).Split("\n----\n").Select(text => Encoding.UTF8.GetBytes(text.TrimEnd('\n'))), .. Longer(file)];
    }

    private static IEnumerable<byte[]> Longer(string file) => !Further.TryGetValue(file, out var further) ? []
        : Directory.GetFiles(SourceTree.Path("tests", "cases", further.Folder), further.Files).Order(StringComparer.Ordinal)
            .Select(File.ReadAllBytes);

    /// <summary>What a run of eng/fuzz found, or failed at; often none.</summary>
    public static IReadOnlyList<byte[]> Found(string file)
    {
        var path = Path.Combine(Folder, "found", Path.ChangeExtension(file, ".hex"));
        return File.Exists(path) ? Lines(path) : [];
    }

    private static byte[][] Lines(string path) => [.. File.ReadLines(path).Select(Convert.FromHexString)];
}

using Chamber.Testing;

namespace Chamber.Service.Tests.Faults;

/// <summary>The tables of tests/cases/faults.</summary>
internal static class FaultCases
{
    /// <summary>The lines of a table, without its head; no cell has a comma.</summary>
    public static IEnumerable<string[]> Of(string table) =>
        File.ReadLines(SourceTree.Path("tests", "cases", "faults", table)).Skip(1).Select(line => line.Split(','));
}

using System.Text.RegularExpressions;

namespace Chamber.Core.Tests.Repository;

/// <summary>Whatever is written down says who wrote it and by which way.</summary>
public sealed partial class AuthorTests
{
    [Fact]
    public void Nothing_of_the_service_writes_facts_without_saying_who_writes()
    {
        var nameless =
            from path in Sources.All
            where path.StartsWith("src/Chamber.Service/", StringComparison.Ordinal) && Path.GetExtension(path) is ".cs" or ".razor"
            from line in Sources.Text(path).Split('\n').Index()
            where Nameless().IsMatch(line.Item)
            select $"{path}:{line.Index + 1}: write with the pen of a reader As(author), or Ledger.By(author, now)";
        Sources.ExpectNone(nameless);
    }

    [Theory]
    [InlineData("store.Ledger.Batches.Record(batch, look);")]
    [InlineData("invocation.Store.Ledger.Crops.Remove(crop);")]
    public void A_line_that_does_is_found(string line) => Assert.Matches(Nameless(), line);

    [GeneratedRegex(
        @"[sS]tore\.Ledger\.((SetUp|Seeds|Batches|Crops)\.(Save|Put|Lift|Record|Remove\w*|Sow|Move|End|Reopen|Wet|PlantOut))\(")]
    private static partial Regex Nameless();
}

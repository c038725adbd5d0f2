using System.Globalization;
using Chamber.Core.Forecasts.Learning;
using Chamber.Testing;

namespace Chamber.Core.Tests.Forecasts.Together;

/// <summary>What is assumed of homes together stands in the documents as it is in the program; none of it is published.</summary>
public class TogetherPriorsTests
{
    [Fact]
    public void The_documented_numbers_are_those_of_the_program()
    {
        var rows = File.ReadLines(SourceTree.Path("docs", "arithmetic", "learning-together.md"))
            .Where(line => line.StartsWith("| ", StringComparison.Ordinal))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries)).Where(cells => cells.Length == 4)
            .GroupBy(cells => cells[1].Split(',')[0], cells => cells[2]).ToDictionary(same => same.Key, same => same.First());
        var numbers = typeof(TogetherPriors).GetFields().Where(field => field.IsLiteral && field.FieldType == typeof(double)).ToArray();
        Assert.Equal(10, numbers.Length);
        Assert.All(numbers, field => Assert.Equal(
            (double)field.GetRawConstantValue()!, double.Parse(rows[field.Name], CultureInfo.InvariantCulture)));
    }
}

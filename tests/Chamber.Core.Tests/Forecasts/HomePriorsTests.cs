using System.Globalization;
using Chamber.Core.Forecasts;
using Chamber.Testing;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>What is assumed of a home stands in the documents as it is in the program; none of it is published.</summary>
public class HomePriorsTests
{
    [Fact]
    public void The_documented_numbers_are_those_of_the_program()
    {
        var rows = File.ReadLines(SourceTree.Path("docs", "arithmetic", "what-the-home-teaches.md"))
            .Where(line => line.StartsWith("| ", StringComparison.Ordinal))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries))
            .GroupBy(cells => cells[1].Split(',', ';')[0], cells => cells[2])
            .ToDictionary(same => same.Key, same => same.First());
        var numbers = typeof(HomePriors).GetFields().Where(field => field.IsLiteral && field.FieldType == typeof(double)).ToArray();
        Assert.Equal(16, numbers.Length);
        Assert.All(numbers, field => Assert.Equal(
            (double)field.GetRawConstantValue()!,
            double.Parse(rows[field.Name], CultureInfo.InvariantCulture)));
    }
}

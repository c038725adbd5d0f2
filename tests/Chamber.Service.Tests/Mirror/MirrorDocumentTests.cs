using System.Text;
using Chamber.Service.Mirror;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mirror;

/// <summary>What docs/mirror.md says of the lines is what is sent. Readings, times and counts are invented.</summary>
public sealed class MirrorDocumentTests
{
    private const string Begin = "<!-- measurements -->\n";
    private const string End = "<!-- end of measurements -->";

    [Fact]
    public void The_document_lists_every_measurement_tag_and_field()
    {
        var text = File.ReadAllText(SourceTree.Path("docs", "mirror.md"));
        var from = text.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length;
        var listed = text[from..text.IndexOf(End, StringComparison.Ordinal)];
        var expected = Expected();
        var kept = SourceTree.Path("artifacts", "mirror-measurements.md");
        File.WriteAllText(kept, expected);

        Assert.True(listed == expected, $"Between the two comments in docs/mirror.md there should be what is in {kept}.");
    }

    [Fact]
    public void A_line_with_the_wrong_number_of_values_is_not_made() =>
        Assert.Throws<ArgumentException>(() => Measurements.Reading.Line(null, default, ["p"], [1.0]));

    [Fact]
    public void A_reading_without_any_quantity_makes_no_line() =>
        Assert.Null(Measurements.Reading.Line(null, default, ["p"], [null, null, double.NaN, null]));

    [Fact]
    public void A_line_has_the_home_and_no_digits_of_noise() => Assert.Equal(
        @"chamber_reading,home=attic\ flat\,\ left,probe=p humidity_percent=33.333,temperature_celsius=21.4 0",
        Measurements.Reading.Line("attic flat, left", Instant.FromUnixTimeSeconds(0), ["p"], [21.400000000000002, 100 / 3.0, null, null]));

    private static string Expected()
    {
        var text = new StringBuilder();
        foreach (var measurement in Measurements.All)
        {
            text.Append($"\n### `{measurement.Name}`\n{measurement.Meaning}\n\n| | | |\n| --- | --- | --- |\n");
            foreach (var (kind, part) in measurement.Tags.Select(tag => ("tag", tag))
                .Concat(measurement.Fields.Select(field => ("field", field))))
            {
                text.Append($"| {kind} | `{part.Name}` | {part.Meaning} |\n");
            }
        }

        return text.Append('\n').ToString();
    }
}

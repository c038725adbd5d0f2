using System.Text.RegularExpressions;
using Chamber.Core.Climate;
using Chamber.Service.Mirror;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mirror;

/// <summary>The lines of the mirror on a server that answers InfluxQL, and the query that docs/mirror.md shows. Readings are
/// invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class InfluxQlTests
{
    [Fact]
    public async Task The_query_of_the_document_finds_the_temperatures_of_a_probe()
    {
        await using var server = await InfluxDb.Start();
        using var rig = new MirrorRig("http://127.0.0.1:1");
        var now = Instant.FromDateTimeOffset(rig.Clock.GetUtcNow());
        Reading At(string probe, int minutes, double celsius) => new(new(probe), now - Duration.FromMinutes(minutes),
            now - Duration.FromMinutes(minutes), Temperature.FromCelsius(celsius));
        rig.Store.Journal.Append([At("kitchen-1", 40, 21.25), At("kitchen-1", 20, 22.5), At("mat", 20, 27)], []);
        await rig.PumpDry(async (lines, _) =>
        {
            await server.Write(lines);
            return new(Receipt.Taken);
        });

        var query = Shown().Match(await File.ReadAllTextAsync(SourceTree.Path("docs", "mirror.md"),
            TestContext.Current.CancellationToken)).Groups[1].Value;
        Assert.Equal([21.25, 22.5], (await server.Rows(query)).Select(row => row[1].GetDouble()));
    }

    [GeneratedRegex("`(SELECT [^`]+)`")]
    private static partial Regex Shown();
}

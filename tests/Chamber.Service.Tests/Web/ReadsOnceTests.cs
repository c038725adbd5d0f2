using Chamber.Service.Tests.Commands;

namespace Chamber.Service.Tests.Web;

/// <summary>What a page or an answer of the API costs in readings of the home: one, whatever it shows. The home is invented.</summary>
public sealed class ReadsOnceTests : IDisposable
{
    private static readonly string[] Answers = ["/api/today", "/api/spots", "/api/batches", "/api/batches/T1", "/api/batches/T1/review",
        "/api/hindsight", "/api/season", "/api/season-plan", "/api/lots", "/api/probes", "/api/alerts", "/api/week", "/api/learned",
        "/api/place?crop=basil"];

    private readonly HomeRig rig = new();

    [Fact]
    public async Task A_page_that_only_reads_reads_the_home_once()
    {
        await rig.Do("spot add shelf", "spot add sill --kind sill --light bright", "probe add p1 --spot shelf",
            "lot add tom-24 --crop tomato --seeds 60 --year 2024", "sow tomato --seeds 12 --spot shelf --lot tom-24 --name T1",
            "sow tomato --seeds 12 --spot sill --lot tom-24 --name T2");
        await using var page = await StillPage.Open(rig);
        Assert.Equal(1, await ReadingsOf("/"));
        List<string> found = [];
        foreach (var path in StillPage.Addresses("T1", "shelf", "tom-24").Concat(Answers))
        {
            if (await ReadingsOf(path) is > 1 and var times)
            {
                found.Add($"{path} reads the home {times} times");
            }
        }

        Assert.Empty(found);

        async Task<long> ReadingsOf(string path)
        {
            // What another program writes makes whatever was read before old.
            await rig.Do("note T1 looked-in");
            var before = page.Store.Facts.TimesRead;
            await page.Get(path);
            return page.Store.Facts.TimesRead - before;
        }
    }

    public void Dispose() => rig.Dispose();
}

using System.Globalization;

namespace Chamber.Service.Tests.Commands.Sowing;

/// <summary>Readings, times and counts are invented.</summary>
public class BatchesVerbTests
{
    // Kathmandu is 5:45 ahead of UTC all year.
    [Theory]
    [InlineData("look T1 1 --when 2027-02-20T10:00:00Z", "lies before the sowing at Sun 28 Feb 16:00")]
    [InlineData("end T1 --when 2027-02-20T10:00:00Z", "was sown at Sun 28 Feb 16:00; Sat 20 Feb 15:45 is before that")]
    [InlineData("look T2 1", "3 were up at 13:15")]
    [InlineData("move T1 shelf --when 2027-02-28T10:15:00Z", "it can only leave after that")]
    [InlineData("probe move p1 shelf --when 2027-02-25T10:00:00Z", "from Thu 25 Feb 10:45")]
    public async Task A_refusal_tells_its_times_in_the_zone_of_the_home(string line, string refusal)
    {
        using var home = new HomeRig();
        home.Write("chamber.json", """{ "home": { "zone": "Asia/Kathmandu" } }""");
        await home.Do(
            "spot add sill --kind sill --light bright --room 3",
            "spot add shelf --kind shelf --light bright --room 3",
            "probe add p1 --measures media",
            "probe move p1 sill --when 2027-02-25T05:00:00Z",
            "probe move p1 shelf --when 2027-02-26T05:00:00Z",
            "sow tomato --seeds 12 --spot sill --name T1 --when 2027-02-28T10:15:00Z",
            "sow tomato --seeds 12 --spot sill --name T2 --when 2027-02-28T10:15:00Z",
            "look T2 3 --when 2027-03-01T07:30:00Z");

        var told = await home.Refusal(line.Split(' '));
        Assert.Contains(refusal, told, StringComparison.Ordinal);
        Assert.DoesNotContain("UTC", told, StringComparison.Ordinal);
        Assert.DoesNotMatch(@"\d\d:\d\d:\d\dZ", told);
    }

    [Fact]
    public async Task Nobody_is_told_to_stop_waiting_once_all_are_up_or_pricked_out()
    {
        using var home = new HomeRig();
        var lines = Enumerable.Range(0, 240).Select(
            hour => $"{home.Clock.GetUtcNow().AddHours(hour - 240).ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)},22");
        await home.Do(
            "spot add shelf --kind shelf --light bright --room 3",
            "probe add p1 --measures media",
            "probe move p1 shelf --when 2027-02-18",
            $"import {home.Write("log.csv", "at,temperature\n" + string.Join('\n', lines) + "\n")} --probe p1",
            "sow tomato --seeds 12 --spot shelf --name T1 --when 2027-02-20",
            "sow tomato --seeds 12 --spot shelf --name T2 --when 2027-02-20",
            "sow tomato --seeds 12 --spot shelf --name T3 --when 2027-02-20",
            "look T1 12",
            "look T2 9",
            "look T3 9",
            "stage T3 pricked-out --plants 9");

        var rows = (await home.Run("batches")).Out.Split('\n').Select(line => line.TrimEnd()).ToList();
        Assert.EndsWith("all are up", rows.Single(row => row.StartsWith("T1", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Matches(@"Mar$|now$", rows.Single(row => row.StartsWith("T2", StringComparison.Ordinal)));
        Assert.EndsWith("over", rows.Single(row => row.StartsWith("T3", StringComparison.Ordinal)), StringComparison.Ordinal);
    }
}

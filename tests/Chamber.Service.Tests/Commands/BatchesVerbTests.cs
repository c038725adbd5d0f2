using System.Globalization;

namespace Chamber.Service.Tests.Commands;

public class BatchesVerbTests
{
    [Fact]
    public async Task Nobody_is_told_to_stop_waiting_for_a_batch_of_which_all_are_up_or_that_is_pricked_out()
    {
        using var home = new HomeRig();
        var lines = Enumerable.Range(0, 240).Select(hour => $"{home.Clock.GetUtcNow().AddHours(hour - 240).ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)},22");
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

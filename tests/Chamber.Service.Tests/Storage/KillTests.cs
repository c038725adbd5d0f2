using System.Globalization;
using Chamber.Storage;
using Chamber.Testing;

namespace Chamber.Service.Tests.Storage;

[Trait(Tier.Name, Tier.Whole)]
public sealed class KillTests
{
    private const int Kills = 20;

    [Fact]
    public async Task Killed_twenty_times_in_mid_append_it_loses_and_halves_nothing()
    {
        using var file = new DataFile();
        var moment = new Random(20261125);
        for (var kill = 0; kill < Kills; kill++)
        {
            var acknowledged = await AppendUntilKilled(file, batches: 1 + moment.Next(30));

            using var store = file.Open();
            Assert.Null(store.Damage);
            var numbers = store.Journal.Read(AppendingProcess.Probe, new(null, null))
                .Select(reading => (long)(reading.MeasuredAt - DataFile.Start).TotalSeconds).ToList();
            Assert.Equal(Enumerable.Range(0, numbers.Count).Select(number => (long)number), numbers);
            Assert.Equal(0, numbers.Count % AppendingProcess.BatchSize);
            Assert.InRange(numbers.Count, acknowledged, int.MaxValue);
        }

        Assert.Equal(Chamber.Storage.Files.Schema.Newest, ChamberStore.Verify(file.Path).Version);
    }

    private static async Task<int> AppendUntilKilled(DataFile file, int batches)
    {
        await using var process = AppendingProcess.Start(file.Path);
        var seen = 0;
        await process.Line(line => line.StartsWith("committed", StringComparison.Ordinal) && ++seen == batches);
        await process.Kill();
        return int.Parse(process.Output.Split('\n').Last(line => line.StartsWith("committed", StringComparison.Ordinal)).Split(' ')[1],
            CultureInfo.InvariantCulture);
    }
}

using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Seeds;
using Chamber.Storage.Facts;
using NodaTime;

namespace Chamber.Benchmarks;

/// <summary>
/// Ten busy years of one home, 20,000 facts: sowings with their looks, moves and stages, and lots. Aim: folded within 50 ms of processor
/// time. Reading them back from JSON is told beside it.
/// </summary>
internal static class FactsBenchmark
{
    private const int Count = 20_000;
    private const int Rounds = 15;
    private const int BatchesOfLot = 8;

    // As many as a busy grower has, so that each comes again a hundred times.
    private static readonly string[] Crops =
    [
        "tomato", "basil", "lettuce", "onion", "pepper-sweet", "broccoli", "kale", "marigold", "celery", "radish", "leek", "parsley",
    ];

    /// <summary>When the ten years begin.</summary>
    public static readonly Instant Begin = Instant.FromUtc(2017, 1, 1, 0, 0);

    private static readonly Author Ana = new("Ana", WriteWay.Page);

    public static void Run()
    {
        var entries = Entries();
        string[] lines = [.. entries.Select(FactLine.Write)];
        Tell("folded", () => FactLog.Of(entries));
        Tell("read back from JSON", () => FactLog.Of([.. lines.Select(FactLine.Read)]));
    }

    /// <summary>What was done in the ten years, in order of time.</summary>
    public static List<FactEntry> Entries()
    {
        var (start, facts) = (Begin, new List<DatedFact>());
        facts.AddRange([new SpotSetUp(new("shelf"), Room: 9).At(start), new SpotSetUp(new("sill"), Room: 9).At(start)]);
        for (var i = 0; facts.Count < Count; i++)
        {
            var (sown, id, crop) = (start + Duration.FromHours(56 * i), new BatchId($"Y{i}"), new CropId(Crops[i % Crops.Length]));
            var lot = new LotId($"{crop}-{i / Crops.Length / BatchesOfLot}");
            if (i / Crops.Length % BatchesOfLot == 0)
            {
                facts.Add(new LotNoted(lot, crop, 200, Year: 2020).At(sown));
            }

            facts.Add(new BatchSown(id, crop, SowingMethod.CoveredMix, 12, lot, new("shelf")).At(sown));
            facts.AddRange(Enumerable.Range(1, 9).Select(day => new BatchLooked(id, Math.Max(0,
                day - 4)).At(sown + Duration.FromDays(day))));
            facts.Add(new StageDone(id, StageKind.MovedToLight, Spot: new("sill")).At(sown + Duration.FromDays(10)));
            facts.Add(new PlantsLost(id, 1).At(sown + Duration.FromDays(20)));
            facts.Add(new BatchEnded(id).At(sown + Duration.FromDays(40)));
        }

        return [.. facts.Take(Count).Select((fact, i) => new FactEntry(i + 1, i + 1, fact.Fact, fact.At, fact.At, Ana))];
    }

    private static void Tell(string what, Func<FactLog> work)
    {
        var times = new List<double>();
        for (var round = 0; round < Rounds; round++)
        {
            var before = Environment.CpuUsage.TotalTime;
            var log = work();
            times.Add((Environment.CpuUsage.TotalTime - before).TotalMilliseconds);
            if (log.LeftOut.Count > 0)
            {
                throw new InvalidOperationException($"{log.LeftOut[0]}");
            }
        }

        times.Sort();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Count} facts {what}: {times[Rounds / 2]:0} ms of processor time in the middle of {Rounds}, {times[^1]:0} ms at most"));
    }
}

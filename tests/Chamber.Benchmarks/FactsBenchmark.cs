using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Spots;
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

    private static readonly Author Ana = new("Ana", WriteWay.Page);

    public static void Run()
    {
        var entries = Entries();
        string[] lines = [.. entries.Select(FactLine.Write)];
        Tell("folded", () => FactLog.Of(entries));
        Tell("read back from JSON", () => FactLog.Of([.. lines.Select(FactLine.Read)]));
    }

    private static List<FactEntry> Entries()
    {
        var (start, facts) = (Instant.FromUtc(2017, 1, 1, 0, 0), new List<DatedFact>());
        facts.AddRange([new SpotSetUp(new("shelf"), Room: 9).At(start), new SpotSetUp(new("sill"), Room: 9).At(start)]);
        for (var i = 0; facts.Count < Count; i++)
        {
            var (sown, id) = (start + Duration.FromHours(40 * i), new BatchId($"B{i}"));
            facts.Add(new LotNoted(new($"lot-{i}"), new CropId("tomato"), 60, Year: 2020).At(sown));
            facts.Add(new BatchSown(id, new("tomato"), SowingMethod.CoveredMix, 12, new($"lot-{i}"), new("shelf")).At(sown));
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

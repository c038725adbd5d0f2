using System.Diagnostics;
using System.Globalization;
using Chamber.Club.Store;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using NodaTime;

namespace Chamber.Benchmarks.Club;

/// <summary>Invented homes, each with four probes on two spots and a batch.</summary>
internal static class ClubHomes
{
    public static readonly string[] Probes = ["soil", "air", "mat", "lid"];

    public static string Name(int home) => string.Create(CultureInfo.InvariantCulture, $"home-{home}");

    /// <summary>Makes them, each with so much of the past.</summary>
    public static async Task Fill(ClubDatabase club, int homes, Duration past, Duration every)
    {
        var clock = Stopwatch.StartNew();
        var now = SystemClock.Instance.GetCurrentInstant();
        await Parallel.ForEachAsync(Enumerable.Range(0, homes), new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (home, cancel) =>
        {
            var store = club.Home(await club.AddHomeAsync(Name(home), cancel));
            await store.WriteAsync(new("keeper", WriteWay.Page), now, _ => Facts(now, past), cancel);
            for (var from = past; from > Duration.Zero; from -= Duration.FromDays(1))
            {
                await store.AppendAsync([.. Said(home, now, from, every)], [], [], cancel);
            }
        });
        Measure.Say($"{homes} homes with {past.TotalDays:0.#} days of the past each, made in {clock.Elapsed.TotalSeconds:F0} s");
    }

    /// <summary>What a probe says.</summary>
    public static double Celsius(int home, int index, Instant at) => Math.Round(
        21 + index + home % 5 + 3 * Math.Sin(at.ToUnixTimeSeconds() / 86400.0 * Math.Tau)
            + (at.ToUnixTimeSeconds() / 60 + home) % 7 * 0.02, 2);

    /// <summary>What is written down of each.</summary>
    public static DatedFact[] Facts(Instant now, Duration past)
    {
        var since = now - past - Duration.FromDays(20);
        return
        [
            new SpotSetUp(new("shelf")).At(since), new SpotSetUp(new("heat-mat")).At(since),
            .. Probes.Select((probe, i) => new ProbeSetUp(new(probe), i % 2 == 0 ? Measurand.Media : Measurand.Air).At(since)),
            .. Probes.Select((probe, i) => new ProbePlaced(new(probe), new(i < 2 ? "shelf" : "heat-mat")).At(since)),
            new BatchSown(new("T1"), new("tomato"), Core.Crops.SowingMethod.CoveredMix, 12, null, new("heat-mat"))
                .At(now - Duration.FromDays(3)),
        ];
    }

    // What lies in one day of the past.
    private static IEnumerable<Reading> Said(int home, Instant now, Duration from, Duration every)
    {
        var end = Duration.Max(from - Duration.FromDays(1), Duration.Zero);
        for (var back = from; back > end; back -= every)
        {
            for (var i = 0; i < Probes.Length; i++)
            {
                var at = now - back;
                yield return new(new(Probes[i]), at, at, Temperature.FromCelsius(Celsius(home, i, at)));
            }
        }
    }
}

using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>What was believed at a sowing. Homes are drawn from seeds; no number is published.</summary>
public sealed class HindsightTests
{
    private const int Years = 160;

    [Fact]
    public void In_a_home_of_years_it_is_what_all_batches_before_had_taught()
    {
        var simulated = new SimulatedHome(new Random(7));
        BatchEvidence[] batches = [.. Enumerable.Range(0, Years).Select(at => simulated.Sow(Kind(at)).Evidence)];
        var asked = batches.Where((_, at) => at % 20 == 19).ToArray();
        var believed = new BelievedThen(Germinability.UnknownLot, 0);
        var some = Hindsight.PriorsOf(asked.Select(batch => batch.Id).ToHashSet(), batches, _ => believed);
        var all = Hindsight.Priors(batches, _ => believed).ToDictionary(each => each.Batch.Id, each => each.Prior);
        foreach (var batch in asked)
        {
            // Learned at once from all that were done by then, settled to the end.
            var known = HomeKnowledge.Learn([], default);
            foreach (var done in batches.Where(one => one.LastLookAt <= batch.SownAt).OrderBy(one => one.LastLookAt))
            {
                known.Add(done, batches.Where(one => one.SownAt >= done.LastLookAt).Min(one => one.SownAt));
            }

            known.Settle();
            var (mean, deviation) = known.PriorFor(batch.Kind with { PerBaseKelvin = 0 }, Germinability.UnknownLot).LogHalfMoments();
            var (meanThen, deviationThen) = some[batch.Id].LogHalfMoments();
            Assert.InRange(Math.Abs(meanThen - mean), 0, 0.05 * deviation);
            Assert.InRange(deviationThen, 0.97 * deviation, 1.03 * deviation);
            Assert.Equal(all[batch.Id].LogHalf, some[batch.Id].LogHalf);
        }
    }

    private static BatchKind Kind(int at) => BatchKind.Of(Some.Batch() with { Lot = new LotId($"L{at / 8}") }, Some.Crop(
        (at % 3) switch { 0 => "tomato", 1 => "basil", _ => "onion" })) with
    {
        Crop = Some.Crop((at % 3) switch { 0 => "tomato", 1 => "basil", _ => "onion" }).Id,
        Lot = new LotId($"L{at / 8}"),
    };
}

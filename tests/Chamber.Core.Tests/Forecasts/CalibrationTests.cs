using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>
/// The forecast against a simulated world in which its assumptions hold: batches drawn from the priors, on spots that wander, with
/// gaps in the readings and looks at irregular times, asked at any moment from the sowing on.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public class CalibrationTests(ITestOutputHelper output)
{
    private const int Batches = 2000;
    private const int Seed = 20261125;

    [Fact]
    public void Eighty_percent_intervals_hold_four_times_in_five()
    {
        var tally = new Dictionary<(Milestone, bool), (int Held, int Asked)>();
        var random = new Random(Seed);
        for (var i = 0; i < Batches; i++)
        {
            Ask(random, tally);
        }

        foreach (var ((milestone, seen), (held, asked)) in tally.OrderBy(pair => pair.Key))
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{milestone} {(seen ? "after looks" : "at the sowing")}: {held} of {asked} = {(double)held / asked:0.000}"));
        }

        foreach (var milestone in new[] { Milestone.First, Milestone.Half, Milestone.Most })
        {
            var ours = tally.Where(pair => pair.Key.Item1 == milestone).ToArray();
            Assert.InRange((double)ours.Sum(pair => pair.Value.Held) / ours.Sum(pair => pair.Value.Asked), 0.78, 0.82);
        }
    }

    private static void Ask(Random random, Dictionary<(Milestone, bool), (int Held, int Asked)> tally)
    {
        var crop = random.Next(2) == 0 ? SomeCrops.Tomato : SomeCrops.Cucumber;
        var cardinals = crop.Profile.Cardinals;
        var spot = new WanderingSpot(random, 17 + 8 * random.NextDouble(), 4 * random.NextDouble(), 0.90 + 0.08 * random.NextDouble(),
            0.5 + 1.5 * random.NextDouble(), random.Next(5, 15), 150);
        var climate = spot.Fitted();
        var prior = HomeKnowledge.Nothing.PriorFor(
            new BatchKind(crop.Id, crop.Profile, MethodOf(random), null), Germinability.UnknownLot);
        var batch = new SimulatedBatch(random, prior, random.Next(4, 40), spot.Truth(cardinals));
        if (batch.Final == 0)
        {
            return;
        }

        var isFresh = random.Next(3) == 0;

        // The moment of asking must not depend on when the seeds come up, or it would itself tell something about that.
        var usualHours = crop.Profile.HalfWarmHours.CelsiusHours / Math.Max(
            cardinals.EffectiveWarmth(climate.Usual.Hours[12]!.Value.Mean), 3);
        var now = isFresh ? 0 : random.NextDouble() * 2 * usualHours;
        var at = WanderingSpot.SownAt + Duration.FromHours(now);
        var outlook = new SpotOutlook(cardinals, climate, at, spot.ResidualAt(now - 1, climate));
        var situation = new Situation(
            WanderingSpot.SownAt, at, batch.Seeds, crop.Profile.Event, batch.Looks(random, now), now == 0 ? null
                : spot.Measured(cardinals, now, climate), outlook);
        var forecast = Forecaster.Forecast(prior, situation);
        foreach (var milestone in new[] { Milestone.First, Milestone.Half, Milestone.Most })
        {
            Count(tally, milestone, situation, forecast[milestone], batch.HoursOf(milestone));
        }
    }

    private static void Count(Dictionary<(Milestone, bool), (int Held, int Asked)> tally, Milestone milestone, Situation situation,
        TimeEstimate estimate, double truth)
    {
        // What a look has already proved needs no forecast.
        if (milestone == Milestone.First && situation.Seen.Up > 0)
        {
            return;
        }

        var key = (milestone, situation.Looks.Count > 0);
        var (held, asked) = tally.GetValueOrDefault(key);
        var holds = (estimate.Low?.TotalHours ?? double.PositiveInfinity) <= truth
            && truth <= (estimate.High?.TotalHours ?? double.PositiveInfinity);
        tally[key] = (held + (holds ? 1 : 0), asked + 1);
    }

    private static SowingMethod MethodOf(Random random) =>
        random.Next(3) == 0 ? SowingMethod.OpenMix : SowingMethod.CoveredMix;
}

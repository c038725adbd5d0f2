using Chamber.Core.Batches;
using Chamber.Core.Forecasts;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>A batch drawn from a prior on a wandering spot: the hours at which its seeds truly come up.</summary>
internal sealed class SimulatedBatch
{
    private readonly double[] upAt;

    public SimulatedBatch(Random random, EmergencePrior prior, int seeds, WarmthCourse truth)
    {
        Seeds = seeds;
        var logHalf = Draw(random, prior.LogHalf);
        var spread = Math.Exp(Normal.Sample(random, prior.LogSpread.Mean, prior.LogSpread.Deviation));
        var share = random.NextDouble() < prior.Failing ? HomePriors.FailedBatch : prior.Germinable;
        var germinable = Beta.Sample(random, share.Good, share.Bad);
        upAt = [.. Enumerable.Range(0, seeds)
            .Where(_ => random.NextDouble() < germinable)
            .Select(_ => HoursTo(truth, Math.Exp(Normal.Sample(random, logHalf, spread))))
            .Order()];
    }

    public int Seeds { get; }

    public int Final => upAt.Length;

    public double HoursOf(Milestone milestone) => upAt[milestone.Needed(Final, 0) - 1];

    public int UpBy(double hours) => upAt.Count(up => up <= hours);

    /// <summary>Looks at irregular times until some hour; the longer nobody has looked, the likelier a look.</summary>
    public IReadOnlyList<Look> Looks(Random random, double until)
    {
        var looks = new List<Look>();
        for (var hour = Step(); hour < until; hour += Step())
        {
            looks.Add(new(WanderingSpot.SownAt + Duration.FromHours(hour), UpBy(hour)));
        }

        return looks;

        double Step() => 4 + 60 * random.NextDouble() * random.NextDouble();
    }

    private static double Draw(Random random, IReadOnlyList<NormalTerm> terms)
    {
        var pick = random.NextDouble();
        foreach (var term in terms)
        {
            pick -= term.Weight;
            if (pick <= 0)
            {
                return Normal.Sample(random, term.Mean, term.Deviation);
            }
        }

        return Normal.Sample(random, terms[^1].Mean, terms[^1].Deviation);
    }

    private static double HoursTo(WarmthCourse truth, double warmHours)
    {
        var (low, high) = (0.0, (truth.End - truth.Start).TotalHours);
        if (truth.Total.CelsiusHours < warmHours)
        {
            return high * warmHours / truth.Total.CelsiusHours;
        }

        while (high - low > 0.01)
        {
            var middle = (low + high) / 2;
            (low, high) = truth.AtHours(middle) >= warmHours ? (low, middle) : (middle, high);
        }

        return high;
    }
}

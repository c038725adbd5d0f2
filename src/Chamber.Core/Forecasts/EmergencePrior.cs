using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>
/// What is believed of a batch before anybody looks: ln θ50 as a mixture of normal distributions, ln σ as a normal one, and the
/// germinable share G as a beta distribution, independent of one another.
/// </summary>
/// <param name="LogHalf">ln θ50, θ50 in °C·h; weights add up to 1. A second, wider term is the chance of an odd batch.</param>
/// <param name="LogSpread">ln σ.</param>
/// <param name="Germinable">G.</param>
public sealed record EmergencePrior(IReadOnlyList<NormalTerm> LogHalf, NormalTerm LogSpread, ShareBelief Germinable)
{
    /// <summary>The chance that the sowing fails as a whole, whatever <see cref="Germinable"/> says; 0 to below 1.</summary>
    public double Failing { get; init; } = HomePriors.FailedBatchShare;

    /// <summary>Whether the temperature lets any seed come up at all: false where the crop was measured, or is taken, to give
    /// none.</summary>
    public bool IsPossible { get; init; } = true;

    /// <summary>The days after which seed that is not up has rotted; null for no end.</summary>
    public double? WaitDays { get; init; }

    /// <summary>The crop's numbers are taken as they are, but for a doubt about each.</summary>
    /// <param name="profile">The crop's profile.</param>
    /// <param name="logHalfDeviation">Standard deviation of ln θ50, above 0: 0.2 is "give or take 20 %".</param>
    /// <param name="germinable">What is believed of the share that comes up.</param>
    public static EmergencePrior Around(GerminationProfile profile, double logHalfDeviation, ShareBelief germinable) => new(
        [new(1, Math.Log(profile.HalfWarmHours.CelsiusHours), logHalfDeviation)],
        LogSpreadOf(profile),
        germinable);

    /// <summary>The same with more doubt of ln θ50, added as squares.</summary>
    /// <param name="logHalfDeviation">Standard deviation of what comes on top, 0 or more.</param>
    public EmergencePrior Widened(double logHalfDeviation) => logHalfDeviation <= 0
        ? this
        : this with { LogHalf = [.. LogHalf.Select(
            term => term with { Deviation = Math.Sqrt(term.Deviation * term.Deviation + logHalfDeviation * logHalfDeviation) })] };

    internal static NormalTerm LogSpreadOf(GerminationProfile profile) =>
        new(1, Math.Log(profile.Spread), HomePriors.LogSpreadDeviation);

    /// <summary>The expected share of seeds that come up, failure included.</summary>
    internal double ExpectedShare => (1 - Failing) * Germinable.Mean + Failing * HomePriors.FailedBatch.Mean;

    /// <summary>Mean and standard deviation of ln θ50 over the whole mixture.</summary>
    internal (double Mean, double Deviation) LogHalfMoments()
    {
        var mean = LogHalf.Sum(term => term.Weight * term.Mean);
        var square = LogHalf.Sum(term => term.Weight * (term.Deviation * term.Deviation + (term.Mean - mean) * (term.Mean - mean)));
        return (mean, Math.Sqrt(square));
    }

    internal double LogHalfDensity(double logHalf) => LogHalf.Sum(term => term.Weight * term.Density(logHalf));
}

/// <summary>One normal distribution of a mixture.</summary>
/// <param name="Weight">Its share of the mixture, 0 to 1.</param>
/// <param name="Mean">Its mean.</param>
/// <param name="Deviation">Its standard deviation, above 0.</param>
public readonly record struct NormalTerm(double Weight, double Mean, double Deviation)
{
    private const double InverseRootTwoPi = 0.39894228040143267794;

    internal double Density(double at)
    {
        var z = (at - Mean) / Deviation;
        return InverseRootTwoPi / Deviation * Math.Exp(-0.5 * z * z);
    }
}

using Chamber.Core.Statistics;
using MathNet.Numerics;

namespace Chamber.Core.Water;

/// <summary>
/// Too few came up: was it the dryness, or is the lot dead? By how much more likely what was counted is if sound seed lay dry than if dead
/// or weak seed lay damp.
/// </summary>
/// <param name="TimesAsLikely">The likelihood of the dryness over that of the lot; above 1 speaks for the dryness.</param>
/// <param name="UpIfDry">How many of the seeds sown would be up by now if the seed were sound and the dryness all that was wrong.</param>
public sealed record DryOrOld(double TimesAsLikely, double UpIfDry)
{
    /// <summary>Steps over what a lot may be good for.</summary>
    private const int Steps = 200;

    /// <summary>Judges a count.</summary>
    /// <param name="count">What was up.</param>
    /// <param name="sound">What is believed of the seed if the lot is sound.</param>
    /// <param name="dueIfDry">The share of sound seed that would be up by now with what water there was, 0 to 1.</param>
    /// <param name="dueIfDamp">The same if it had been damp throughout, 0 to 1.</param>
    public static DryOrOld Of(SeedCount count, ShareBelief sound, double dueIfDry, double dueIfDamp)
    {
        var dry = Likelihood(count, dueIfDry, share => Density(sound, share));

        // A lot of which nothing is taken for granted: any share as likely as any other.
        var old = Likelihood(count, dueIfDamp, _ => 1);
        return new(dry / Math.Max(old, double.Epsilon), count.Seeds * sound.Mean * dueIfDry);
    }

    private static double Likelihood(SeedCount count, double due, Func<double, double> density)
    {
        var (sum, weights) = (0.0, 0.0);
        for (var step = 0; step < Steps; step++)
        {
            var share = (step + 0.5) / Steps;
            var weight = density(share);
            var up = Math.Clamp(share * due, 1e-9, 1 - 1e-9);
            sum += weight * Math.Exp(count.Up * Math.Log(up) + (count.Seeds - count.Up) * Math.Log(1 - up));
            weights += weight;
        }

        return sum / weights;
    }

    private static double Density(ShareBelief belief, double share) => Math.Exp(
        (belief.Good - 1) * Math.Log(share) + (belief.Bad - 1) * Math.Log(1 - share) - SpecialFunctions.BetaLn(belief.Good, belief.Bad));
}

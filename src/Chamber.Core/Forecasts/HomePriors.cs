using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>
/// What is assumed before a home has taught anything; how unsure a crop's own numbers are stands in its profile. None of these numbers is
/// published. Together they are such that the windows of first batches hold what is published of crops and was not used (WindowTests
/// prints it).
/// </summary>
public static class HomePriors
{
    /// <summary>How far a home's batches lie from the table as a whole, ln θ.</summary>
    public const double HomeDeviation = 0.12;

    /// <summary>
    /// What crops of a family share of the doubt of their own numbers, ln θ; the rest is each crop's. The least doubt of a crop is 0.16,
    /// and relatives of the 1954 table lie 0.13 apart, of which this is what is left: √(0.16² - 0.13²).
    /// </summary>
    public const double SharedByFamily = 0.1;

    /// <summary>How many batches what is assumed of straying is worth beside what this home's batches show.</summary>
    public const double StrayingWorth = 20;

    /// <summary>How far homes differ in how far their lots, methods and crops lie apart, ln of the deviation: by a factor of 1.6 either way
    /// in two of three.</summary>
    public const double LogDeviationOfHomes = 0.5;

    /// <summary>
    /// How far one lot lies from others of its crop, ln θ. Four published thermal times of onion on paper, of as many sorts, differ by
    /// 0.26 at 20 °C, the laboratory in it. A batch whose lot nobody recorded strays by as much.
    /// </summary>
    public const double LotDeviation = 0.25;

    /// <summary>How far a method lies from another that counts the same event, ln θ.</summary>
    public const double MethodDeviation = 0.10;

    /// <summary>The root is seen before the shoot: θ for the root as a factor of θ for the shoot.</summary>
    public const double RootBeforeShoot = RootAndShoot.UsualRootShare;

    /// <summary>How little that factor is known, ln θ: wide on purpose.</summary>
    public const double RootBeforeShootDeviation = 0.40;

    /// <summary>How far one batch lies from what its crop, method, lot and home say, ln θ.</summary>
    public const double BatchDeviation = 0.12;

    /// <summary>The same for an odd batch: a dried-out towel, a mislabelled packet, a look noted under the wrong name.</summary>
    public const double OddBatchDeviation = 0.5;

    /// <summary>How many batches are odd.</summary>
    public const double OddBatchShare = 0.05;

    /// <summary>What a year adds to the doubt about an old batch as evidence for today, ln θ.</summary>
    public const double DeviationPerYear = 0.08;

    /// <summary>How many sowings fail as a whole (rotted, dried out, eaten, dead seed), whatever the lot was thought to be good
    /// for.</summary>
    public const double FailedBatchShare = 0.04;

    /// <summary>What still comes up of a sowing that has failed: one seed in thirteen.</summary>
    public static ShareBelief FailedBatch { get; } = new(1, 12);

    /// <summary>How far the spread σ of a batch lies from the profile's, ln σ.</summary>
    public const double LogSpreadDeviation = 0.25;

    /// <summary>The part of it that all batches of a crop share; the rest is each batch's, as squares.</summary>
    public const double LogSpreadByCrop = 0.2;

    /// <summary>The rest: √(0.25² - 0.2²).</summary>
    public const double LogSpreadOfBatch = 0.15;
}

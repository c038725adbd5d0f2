namespace Chamber.Core.Seeds;

/// <summary>
/// How far official tests of the same seed may lie apart: US rules. They are for hundreds of seeds in a laboratory; a home test of
/// ten to fifty is judged by its interval instead.
/// </summary>
public static class LabelClaim
{
    private static readonly (double From, int Points)[] Steps = [(96, 5), (90, 6), (80, 7), (70, 8), (60, 9), (0, 10)];

    /// <summary>Percent points by which a test may fall short of the label: 7 CFR 201.63, for 400 seeds; 2 more for 200.</summary>
    /// <param name="meanPercent">Mean of the label and the test, 0 to 100.</param>
    /// <param name="seeds">Seeds tested, 200 or more.</param>
    public static int Tolerance(double meanPercent, int seeds = 400)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(seeds, 200);
        return Steps.First(step => meanPercent >= step.From).Points + (seeds < 400 ? 2 : 0);
    }

    /// <summary>
    /// The widest range of four replicates of 100 that chance allows once in forty tests: 3.98 √(pq/100), rounded. S. R. Miles, "Handbook
    /// of tolerances", Proc. Int. Seed Test. Assoc. 28 (1963); meets the table of 7 CFR 201.55 within a point.
    /// </summary>
    public static int ReplicateRange(double meanPercent) =>
        (int)Math.Round(3.98 * Math.Sqrt(meanPercent * (100 - meanPercent) / 100));
}

using System.Globalization;

namespace Chamber.Core.Statistics;

/// <summary>Two counts beside each other, with words that claim no more than they prove.</summary>
/// <param name="First">The first count.</param>
/// <param name="Second">The second.</param>
/// <param name="PValue">Fisher's exact test, two-sided.</param>
/// <param name="Difference">First share less second, 95 % interval (<see cref="ShareDifference"/>).</param>
/// <param name="SeedsToSettle">Seeds of each that would settle it 4 times in 5, were the shares truly as seen; null when they are too
/// alike.</param>
/// <param name="Words">The honest sentence.</param>
public sealed record CountComparison(
    SeedCount First,
    SeedCount Second,
    double PValue,
    ShareInterval Difference,
    int? SeedsToSettle,
    string Words)
{
    /// <summary>One split in twenty by chance alone is the usual line.</summary>
    public const double Line = 0.05;

    /// <summary>Why the lower count may still rise, in a sentence; null when it is final, or is not the lower one, or there is no proof
    /// anyway. Then a difference proves nothing.</summary>
    public string? Pending { get; private init; }

    /// <summary>Whether chance alone is an unlikely explanation.</summary>
    public bool IsProof => Pending is null && PValue < Line;

    /// <summary>More seeds of the first, and of the second, until there are enough to settle it; 0 when it is settled.</summary>
    public (int First, int Second)? MoreSeeds => SeedsToSettle is not { } seeds
        ? null
        : IsProof ? (0, 0) : (Math.Max(0, seeds - First.Seeds), Math.Max(0, seeds - Second.Seeds));

    /// <summary>Compares two counts.</summary>
    /// <param name="first">The first count.</param>
    /// <param name="second">The second.</param>
    /// <param name="firstPending">Why the first may still rise; null when it is final.</param>
    /// <param name="secondPending">The same of the second.</param>
    public static CountComparison Of(SeedCount first, SeedCount second, string? firstPending = null, string? secondPending = null)
    {
        var p = FisherExact.PValueOf(first, second);
        var comparison = new CountComparison(
            first,
            second,
            p,
            ShareDifference.Of(first, second),
            Math.Abs(first.Share - second.Share) < 1e-12 ? null : SampleSize.ToTellApart(first.Share, second.Share),
            string.Empty)
        {
            Pending = p >= Line ? null : first.Share <= second.Share && firstPending is not null ? firstPending
                : second.Share <= first.Share ? secondPending : null,
        };
        return comparison with { Words = Say(comparison) };
    }

    private static string Say(CountComparison all)
    {
        var counts = $"{all.First.Up} of {all.First.Seeds} against {all.Second.Up} of {all.Second.Seeds}";
        var range = string.Create(CultureInfo.InvariantCulture,
            $"the true difference may lie anywhere from {all.Difference.Low * 100:+0;-0;0} to {all.Difference.High * 100:+0;-0;0} points");
        if (all.Pending is { } pending)
        {
            return $"{counts}, too early to say how many: {pending}";
        }

        if (all.IsProof)
        {
            return $"{counts} is more than chance, which alone would do this {Often(all.PValue)}; {range}.";
        }

        var more = all.MoreSeeds switch
        {
            null => "they are too alike to tell apart by sowing at home",
            var (one, other) => $"if they are truly as seen, {all.SeedsToSettle} of each would settle it 4 times in 5: {one} more of "
                + $"the first and {other} more of the second",
        };
        return $"{counts} is no proof: chance alone would do this {Often(all.PValue)}; {range}; {more}.";
    }

    private static string Often(double p) => p switch
    {
        > 0.995 => "almost always",
        >= 0.01 => string.Create(CultureInfo.InvariantCulture, $"{p * 100:0} times in 100"),
        >= 0.001 => string.Create(CultureInfo.InvariantCulture, $"{p * 1000:0} times in 1000"),
        _ => "less than 1 time in 1000",
    };
}

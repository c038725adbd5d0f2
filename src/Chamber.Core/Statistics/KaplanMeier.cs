namespace Chamber.Core.Statistics;

/// <summary>One fall of a Kaplan-Meier curve.</summary>
/// <param name="At">When.</param>
/// <param name="AtRisk">For how many it could still happen just before.</param>
/// <param name="Happened">For how many it happened.</param>
/// <param name="Remaining">The share for which it has not happened after this.</param>
/// <param name="StandardError">Of <paramref name="Remaining"/>, by Greenwood's formula (1926).</param>
public readonly record struct KaplanMeierStep(double At, int AtRisk, int Happened, double Remaining, double StandardError);

/// <summary>The product-limit estimate for exact times, of which some are only known to be later (E.L. Kaplan and P. Meier, J. Am. Stat.
/// Assoc. 53 (1958) 457-481).</summary>
public static class KaplanMeier
{
    /// <param name="times">Each time and whether it happened then (otherwise it had not by then; at the same time it counts as still at
    /// risk).</param>
    public static IReadOnlyList<KaplanMeierStep> Of(IEnumerable<(double At, bool Happened)> times)
    {
        var ordered = times.GroupBy(time => time.At).OrderBy(same => same.Key).ToArray();
        var atRisk = ordered.Sum(same => same.Count());
        var (left, greenwood) = (1.0, 0.0);
        var steps = new List<KaplanMeierStep>();
        foreach (var same in ordered)
        {
            if (same.Count(time => time.Happened) is > 0 and var happened)
            {
                left *= 1 - (double)happened / atRisk;
                greenwood += left == 0 ? 0 : happened / ((double)atRisk * (atRisk - happened));
                steps.Add(new(same.Key, atRisk, happened, left, left * Math.Sqrt(greenwood)));
            }

            atRisk -= same.Count();
        }

        return steps;
    }
}

namespace Chamber.Core.Statistics;

/// <summary>
/// The usual measures of a finished sowing, each by its published formula. Counts are made at looks, and every seed is taken as up at the
/// look that found it, as the formulas do: times are late by up to one interval, so they compare only sowings looked at alike.
/// </summary>
/// <param name="Seeds">How many were sown.</param>
/// <param name="Up">N: how many came up.</param>
/// <param name="FinalPercent">100 N/n.</param>
/// <param name="MeanDays">t̄ = Σ nᵢtᵢ/N (M.A. Ranal and D.G. de Santana, Rev. Bras. Bot. 29 (2006) 1-11); null when none came up.</param>
/// <param name="DeviationDays">s, s² = Σ nᵢ(tᵢ - t̄)²/(N - 1) (the same); null under two.</param>
/// <param name="VariationPercent">100 s/t̄ (the same).</param>
/// <param name="Speed">100 N/Σ nᵢtᵢ, percent a day (F. Kotowski, 1926).</param>
/// <param name="HalfDays">T50 with (N + 1)/2, straight between counts (P. Coolbear, A. Francis and D. Grierson, J. Exp. Bot. 35 (1984)
/// 1609-1617).</param>
/// <param name="HalfDaysOfAll">T50 with N/2 (M. Farooq, S.M.A. Basra, K. Hafeez and N. Ahmad, 2005).</param>
/// <param name="SpeedIndex">Σ nᵢ/tᵢ, seeds a day (J.D. Maguire, Crop Sci. 2 (1962) 176-177).</param>
/// <param name="UncertaintyBits">-Σ fᵢ log₂ fᵢ (L.G. Labouriau and M.E.B. Valadares, 1976); 0 when all came at once.</param>
/// <param name="Synchrony">Σ C(nᵢ, 2)/C(N, 2) (R.B. Primack, 1980): 1 when all came at once; null under two.</param>
public sealed record GerminationMeasures(
    int Seeds,
    int Up,
    double FinalPercent,
    double? MeanDays,
    double? DeviationDays,
    double? VariationPercent,
    double? Speed,
    double? HalfDays,
    double? HalfDaysOfAll,
    double? SpeedIndex,
    double? UncertaintyBits,
    double? Synchrony)
{
    /// <summary>The measures of counts.</summary>
    /// <param name="seeds">How many were sown, at least 1.</param>
    /// <param name="looks">Days since the sowing, above 0 and rising, and how many were up in all; never falling, never above
    /// <paramref name="seeds"/>.</param>
    /// <exception cref="ArgumentException">Looks are out of order.</exception>
    public static GerminationMeasures Of(int seeds, IReadOnlyList<(double Days, int Up)> looks)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(seeds, 1);
        var came = New(seeds, looks);
        double up = came.Sum(each => each.New);
        if (up == 0)
        {
            return new(seeds, 0, 0, null, null, null, null, null, null, null, null, null);
        }

        var total = came.Sum(each => each.New * each.Days);
        var mean = total / up;
        double? deviation = up < 2 ? null : Math.Sqrt(came.Sum(each => each.New * (each.Days - mean) * (each.Days - mean)) / (up - 1));
        return new(
            seeds,
            (int)up,
            100 * up / seeds,
            mean,
            deviation,
            100 * deviation / mean,
            100 * up / total,
            DaysTo((up + 1) / 2, looks),
            DaysTo(up / 2, looks),
            came.Sum(each => each.New / each.Days),
            came.Sum(each => each.New / up * Math.Log2(up / each.New)),
            up < 2 ? null : came.Sum(each => each.New * (each.New - 1.0)) / (up * (up - 1)));
    }

    private static List<(double Days, int New)> New(int seeds, IReadOnlyList<(double Days, int Up)> looks)
    {
        var came = new List<(double, int)>();
        var (last, before) = (0.0, 0);
        foreach (var (days, up) in looks)
        {
            if (days <= last || up < before || up > seeds)
            {
                throw new ArgumentException("Looks are in order of time after the sowing, and counts never fall or pass the seeds sown.",
                    nameof(looks));
            }

            if (up > before)
            {
                came.Add((days, up - before));
            }

            (last, before) = (days, up);
        }

        return came;
    }

    private static double DaysTo(double wanted, IReadOnlyList<(double Days, int Up)> looks)
    {
        var (last, before) = (0.0, 0);
        foreach (var (days, up) in looks)
        {
            if (up >= wanted)
            {
                return last + (wanted - before) * (days - last) / (up - before);
            }

            (last, before) = (days, up);
        }

        return last;
    }
}

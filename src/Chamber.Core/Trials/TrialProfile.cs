namespace Chamber.Core.Trials;

/// <summary>
/// The profile likelihood of one number: the best that all the others can do while it is held (D. J. Venzon and S. H. Moolgavkar,
/// Appl. Statist. 37 (1988) 87-94). Its 95 % interval is where twice the loss stays under 3.84; an end that is never reached within
/// what any crop could do is not known.
/// </summary>
/// <param name="search">The search.</param>
/// <param name="best">The best point.</param>
/// <param name="number">Which number is held.</param>
/// <param name="dispersion">How much more trials differ than chance has it, 1 or more: the loss may be as many times larger.</param>
internal sealed class TrialProfile(TrialSearch search, (TrialPoint Point, double Log) best, TrialNumber number, double dispersion)
{
    /// <summary>95 % of chi-squared with one degree of freedom.</summary>
    private const double LossOfOne = 3.8414588206941236;

    /// <summary>Half way to an end that is as likely as the middle: the middle is then no better than any other value.</summary>
    private const double Level = 0.1;
    private const int RefinementsMax = 9;

    /// <summary>An end of an interval needs no more than this of the likelihood's logarithm.</summary>
    private const double Enough = 2e-3;

    private readonly int[] free = [.. Enumerable.Range(0, TrialPoint.Numbers).Where(each => each != (int)number)];

    /// <summary>A point that turned out better than the best known one, or null.</summary>
    public (TrialPoint Point, double Log)? Better { get; private set; }

    private double Loss => LossOfOne * dispersion;

    private double Middle => Value(best.Point);

    private double FirstStep => number <= TrialNumber.Ceiling ? 0.7 : 0.08;

    public TrialEnds Ends()
    {
        var (low, lowIsLevel) = End(-1);
        var (high, highIsLevel) = End(1);
        var share = number == TrialNumber.Angle;
        return new(Middle, low, high, !share && (lowIsLevel || highIsLevel || low is null || high is null));
    }

    private double Value(TrialPoint point) => number == TrialNumber.LogFastest ? point.LogHalfWarmHours : point[number];

    private (double? End, bool IsLevel) End(int side)
    {
        var bound = Bound(side);
        var (inside, step) = (Held.At(Middle, best), FirstStep);
        while (true)
        {
            var next = side < 0 ? Math.Max(inside.Value - step, bound) : Math.Min(inside.Value + step, bound);
            var held = Hold(next, inside.Solution.Point);
            if (held.Solution.Log > best.Log + 0.01 && (Better is null || held.Solution.Log > Better.Value.Log))
            {
                Better = held.Solution;
            }

            if (LossAt(held) > Loss)
            {
                var end = Refine(inside, held);
                return (end, IsLevel(end));
            }

            if (next == bound)
            {
                return (null, IsLevel: true);
            }

            (inside, step) = (held, 2 * step);
        }
    }

    /// <summary>Whether everything up to half way to the end is as likely as the middle, and that is a long way.</summary>
    private bool IsLevel(double end)
    {
        var reach = number <= TrialNumber.Ceiling ? 1.5 : 0.5;
        return Math.Abs(end - Middle) > reach && LossAt(Hold((Middle + end) / 2, best.Point)) < Level;
    }

    private double Refine(Held inside, Held outside)
    {
        for (var i = 0; i < RefinementsMax && Math.Abs(outside.Value - inside.Value) > FirstStep / 50; i++)
        {
            var held = Hold(Between(inside, outside), inside.Solution.Point);
            (inside, outside) = LossAt(held) > Loss ? (inside, held) : (held, outside);
            if (Math.Abs(LossAt(held) - Loss) < 0.02)
            {
                return held.Value;
            }
        }

        return (inside.Value + outside.Value) / 2;
    }

    /// <summary>The root of the loss is nearly straight in most numbers; beyond a cliff it is not, and the middle serves.</summary>
    private double Between(Held inside, Held outside)
    {
        var (near, far) = (Math.Sqrt(Math.Max(LossAt(inside), 0)), Math.Sqrt(LossAt(outside)));
        var share = far > 10 ? 0.5 : Math.Clamp((Math.Sqrt(Loss) - near) / (far - near), 0.05, 0.95);
        return inside.Value + share * (outside.Value - inside.Value);
    }

    private double LossAt(Held held) => 2 * (best.Log - held.Solution.Log);

    private Held Hold(double value, TrialPoint from)
    {
        var start = (double[])from.At.Clone();
        return Held.At(value, search.Climb(Within(start, value), free, Enough, moved => Complete(moved, value)));
    }

    /// <summary>Moves neighbours out of the way of a held cardinal temperature, so that the climb starts in order.</summary>
    private double[] Within(double[] start, double value)
    {
        if (number > TrialNumber.Ceiling)
        {
            return start;
        }

        var at = (int)number;
        start[at] = value;
        for (var i = at - 1; i >= 0; i--)
        {
            start[i] = Math.Min(start[i], start[i + 1] - TrialPoint.LeastGap);
        }

        for (var i = at + 1; i <= (int)TrialNumber.Ceiling; i++)
        {
            start[i] = Math.Max(start[i], start[i - 1] + TrialPoint.LeastGap);
        }

        return start;
    }

    private TrialPoint Complete(double[] moved, double value)
    {
        moved[(int)number] = number == TrialNumber.LogFastest
            ? value - Math.Log(24 * Math.Max(moved[(int)TrialNumber.OptimumLow] - moved[(int)TrialNumber.Base], TrialPoint.LeastGap))
            : value;
        return new(moved);
    }

    private double Bound(int side) => (number, side) switch
    {
        (TrialNumber.LogFastest, < 0) => Middle - 5,
        (TrialNumber.LogFastest, _) => Middle + 5,
        (TrialNumber.LogSpread, < 0) => Math.Log(TrialPoint.SpreadMin),
        (TrialNumber.LogSpread, _) => Math.Log(TrialPoint.SpreadMax),
        (TrialNumber.Angle, < 0) => 0,
        (TrialNumber.Angle, _) => Math.PI / 2,
        (_, < 0) => TrialPoint.CoolestBase + (int)number * TrialPoint.LeastGap,
        _ => TrialPoint.WarmestCeiling - (TrialNumber.Ceiling - number) * TrialPoint.LeastGap,
    };

    private readonly record struct Held(double Value, (TrialPoint Point, double Log) Solution)
    {
        public static Held At(double value, (TrialPoint Point, double Log) solution) => new(value, solution);
    }
}

/// <summary>The middle and the ends of one number, on the search's own scale.</summary>
/// <param name="Mid">The most likely value.</param>
/// <param name="Low">Low end of the 95 % interval; null when none was found.</param>
/// <param name="High">High end.</param>
/// <param name="IsLevel">An end is missing, or values far from the middle are as likely as it: the middle says nothing. Never so of the
/// share, whose ends are none and all.</param>
internal readonly record struct TrialEnds(double Mid, double? Low, double? High, bool IsLevel);

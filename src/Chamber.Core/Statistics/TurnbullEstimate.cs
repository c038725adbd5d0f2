namespace Chamber.Core.Statistics;

/// <summary>Where a part of the whole happened.</summary>
/// <param name="From">After this.</param>
/// <param name="To">Not later than this; null for what was never seen to happen.</param>
/// <param name="Share">The part, 0 to 1.</param>
/// <param name="Remaining">What is left of the whole afterwards.</param>
public readonly record struct TurnbullMass(double From, double? To, double Share, double Remaining);

/// <summary>
/// The estimate of a distribution from intervals without assuming a shape (B.W. Turnbull, J. R. Stat. Soc. B 38 (1976) 290-295): shares of
/// the innermost intervals, by its self-consistency iteration. Where within an innermost interval the share lies cannot be told.
/// </summary>
public sealed class TurnbullEstimate
{
    private const int RoundsMax = 20_000;
    private const double Settled = 1e-12;

    /// <summary>Smaller shares are none: the iteration comes near nothing but never reaches it.</summary>
    private const double Nothing = 1e-7;

    private readonly (double From, double To)[] cells;
    private readonly double[] shares;

    private TurnbullEstimate(IReadOnlyList<CensoredCount> counts, (double From, double To)[] cells, double[] shares)
    {
        this.cells = cells;
        this.shares = shares;
        LogLikelihood = counts.Sum(count => count.Count * Math.Log(Math.Max(Over(count), double.Epsilon)));
    }

    /// <summary>ln of the likelihood.</summary>
    public double LogLikelihood { get; }

    /// <summary>The parts in order of time, those that are none left out.</summary>
    public IReadOnlyList<TurnbullMass> Masses
    {
        get
        {
            var left = 1.0;
            return [.. cells.Zip(shares).Where(pair => pair.Second > Nothing).Select(pair =>
                new TurnbullMass(pair.First.From, double.IsInfinity(pair.First.To) ? null : pair.First.To, pair.Second,
                    left = Math.Max(0, left - pair.Second)))];
        }
    }

    /// <summary>The estimate from intervals, left open and right closed; equal ends are an exact time.</summary>
    /// <exception cref="ArgumentException">There is no count.</exception>
    public static TurnbullEstimate Of(IReadOnlyList<CensoredCount> counts)
    {
        CensoredCount[] some = [.. counts.Where(count => count.Count > 0)];
        if (some.Length == 0)
        {
            throw new ArgumentException("An estimate needs at least one count.", nameof(counts));
        }

        var cells = Innermost(some);
        var spans = Array.ConvertAll(some, count => Span(cells, count));
        double total = some.Sum(count => count.Count);
        var shares = Enumerable.Repeat(1.0 / cells.Length, cells.Length).ToArray();
        for (var round = 0; round < RoundsMax && Refine(some, spans, shares, total) > Settled; round++)
        {
        }

        return new(some, cells, shares);
    }

    /// <summary>The log-rank score of one count: what happened less what was to be expected while it could; 0 on average over all (see
    /// <see cref="IntervalLogRank"/>).</summary>
    internal double Score(in CensoredCount count)
    {
        var own = Over(count);
        var (from, to) = Span(cells, count);
        var (score, left, remaining) = (0.0, 1.0, 1.0);
        for (var j = 0; j < cells.Length && !double.IsInfinity(cells[j].To); j++)
        {
            if (shares[j] > Nothing)
            {
                var here = j >= from && j < to ? shares[j] / own : 0;
                score += here - remaining * shares[j] / left;
                remaining -= here;
            }

            left -= shares[j];
        }

        return score;
    }

    private double Over(in CensoredCount count)
    {
        var (from, to) = Span(cells, count);
        return shares[from..to].Sum();
    }

    /// <summary>One step of self-consistency; returns the largest change.</summary>
    private static double Refine(CensoredCount[] counts, (int From, int To)[] spans, double[] shares, double total)
    {
        var next = new double[shares.Length];
        for (var i = 0; i < counts.Length; i++)
        {
            var (from, to) = spans[i];
            var sum = 0.0;
            for (var j = from; j < to; j++)
            {
                sum += shares[j];
            }

            for (var j = from; j < to && sum > 0; j++)
            {
                next[j] += counts[i].Count * shares[j] / sum / total;
            }
        }

        var change = 0.0;
        for (var j = 0; j < shares.Length; j++)
        {
            change = Math.Max(change, Math.Abs(next[j] - shares[j]));
            shares[j] = next[j];
        }

        return change;
    }

    /// <summary>From a left end to the next right end with no other end between: only there can a share lie.</summary>
    private static (double From, double To)[] Innermost(CensoredCount[] counts)
    {
        // At one time right ends come before left ones, since (a, b] and (b, c] do not meet; an exact time is a separate point.
        var ends = counts
            .SelectMany(count => new (double At, int Order, bool IsLeft)[] { (count.From, IsExact(count) ? -1 : 1, true),
                (count.To ?? double.PositiveInfinity, 0, false) })
            .Distinct().OrderBy(end => end.At).ThenBy(end => end.Order).ToArray();
        return [.. ends.Zip(ends.Skip(1)).Where(pair => pair.First.IsLeft && !pair.Second.IsLeft)
            .Select(pair => (pair.First.At, pair.Second.At))];
    }

    private static (int From, int To) Span((double From, double To)[] cells, CensoredCount count)
    {
        var to = count.To ?? double.PositiveInfinity;
        var from = Array.FindIndex(cells, cell => IsExact(count) ? cell.From == count.From && cell.To == to
            : cell.From >= count.From && cell.To > count.From);
        var end = from;
        while (end < cells.Length && cells[end].To <= to)
        {
            end++;
        }

        return (from, end);
    }

    private static bool IsExact(CensoredCount count) => count.To == count.From;
}

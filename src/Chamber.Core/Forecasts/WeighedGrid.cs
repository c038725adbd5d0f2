namespace Chamber.Core.Forecasts;

/// <summary>A grid over (ln θ50, ln σ, angle of G) while it is being weighed.</summary>
internal sealed class WeighedGrid(double[] halves, double[] spreads, ShareNodes shares)
{
    /// <summary>Cells lighter than this are left out of forecasts: all of them together weigh less than a thousandth of a
    /// percent.</summary>
    private const double LightestCell = 1e-8;

    /// <summary>A node lighter than this beside the heaviest is left out of the next grid.</summary>
    private const double LightestNode = 1e-8;

    private readonly double[] weights = new double[halves.Length * spreads.Length * shares.Shares.Length];

    /// <summary>
    /// Where the weight lies on an axis, a node further each way: not by its moments, since the weight of an overdue batch, and so the
    /// chance of one more, lies in a tail far from the mean.
    /// </summary>
    public (double Low, double High) LogHalfExtent => Extent(halves, spreads.Length * shares.Shares.Length);

    public (double Low, double High) LogSpreadExtent => Extent(spreads, shares.Shares.Length);

    /// <summary>The same for the angle, whose nodes do not reach the ends of the window.</summary>
    public (double Low, double High) AngleExtent((double Low, double High) window)
    {
        var (low, high) = Extent(shares.Angles, 1);
        return (low <= shares.Angles[0] ? window.Low : low, high >= shares.Angles[^1] ? window.High : high);
    }

    public void Put(int i, int j, double log, double[] terms)
    {
        var start = (i * spreads.Length + j) * terms.Length;
        for (var k = 0; k < terms.Length; k++)
        {
            weights[start + k] = log + terms[k];
        }
    }

    /// <summary>Turns logarithms into weights that add up to 1.</summary>
    public void Normalise()
    {
        var largest = weights.Max();
        var sum = 0.0;
        for (var at = 0; at < weights.Length; at++)
        {
            weights[at] = weights[at] < largest - 46 ? 0 : Math.Exp(weights[at] - largest);
            sum += weights[at];
        }

        for (var at = 0; at < weights.Length; at++)
        {
            weights[at] /= sum;
        }
    }

    public EmergenceBelief ToBelief(SeenCounts seen)
    {
        var nodes = shares.Shares.Length;
        var sums = new double[halves.Length * spreads.Length];
        var kept = 0.0;
        for (var cell = 0; cell < sums.Length; cell++)
        {
            foreach (var weight in weights.AsSpan(cell * nodes, nodes))
            {
                sums[cell] += weight;
            }

            kept += sums[cell] > LightestCell ? sums[cell] : 0;
        }

        var cells = new List<BeliefCell>();
        for (var cell = 0; cell < sums.Length; cell++)
        {
            if (sums[cell] > LightestCell)
            {
                double[] own = [.. weights.AsSpan(cell * nodes, nodes)];
                cells.Add(new(halves[cell / spreads.Length], Math.Exp(spreads[cell % spreads.Length]),
                    Array.ConvertAll(own, weight => weight / kept), sums[cell] / kept));
            }
        }

        return new(seen, [.. cells], shares.Shares);
    }

    // So many weights that follow one another belong to one node.
    private (double Low, double High) Extent(double[] nodes, int run)
    {
        var marginal = new double[nodes.Length];
        for (int at = 0, node = 0; at < weights.Length; at += run, node = node + 1 == nodes.Length ? 0 : node + 1)
        {
            for (var i = at; i < at + run; i++)
            {
                marginal[node] += weights[i];
            }
        }

        var least = LightestNode * marginal.Max();
        var (first, last) = (Array.FindIndex(marginal, weight => weight > least), Array.FindLastIndex(marginal, weight => weight > least));
        return (nodes[Math.Max(first - 1, 0)], nodes[Math.Min(last + 1, nodes.Length - 1)]);
    }
}

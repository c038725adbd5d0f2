namespace Chamber.Core.Forecasts;

/// <summary>A grid over (ln θ50, ln σ, angle of G) while it is being weighed.</summary>
internal sealed class WeighedGrid(double[] halves, double[] spreads, ShareNodes shares)
{
    /// <summary>Cells lighter than this are left out of forecasts: all of them together weigh less than a thousandth of a
    /// percent.</summary>
    private const double LightestCell = 1e-8;

    private readonly double[] weights = new double[halves.Length * spreads.Length * shares.Shares.Length];

    public (double Mean, double Deviation) LogHalfMoments => Moments((i, _, _) => halves[i]);

    public (double Mean, double Deviation) LogSpreadMoments => Moments((_, j, _) => spreads[j]);

    public (double Mean, double Deviation) AngleMoments => Moments((_, _, k) => shares.Angles[k]);

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

    private (double Mean, double Deviation) Moments(Func<int, int, int, double> value)
    {
        var (mean, square) = (0.0, 0.0);
        var at = 0;
        for (var i = 0; i < halves.Length; i++)
        {
            for (var j = 0; j < spreads.Length; j++)
            {
                for (var k = 0; k < shares.Shares.Length; k++, at++)
                {
                    var here = value(i, j, k);
                    mean += weights[at] * here;
                    square += weights[at] * here * here;
                }
            }
        }

        return (mean, Math.Sqrt(Math.Max(0, square - mean * mean)));
    }
}

namespace Chamber.Core.Forecasts;

/// <summary>A grid over (ln θ50, ln σ, angle of G) while it is being weighed.</summary>
internal sealed class WeighedGrid(double[] halves, double[] spreads, ShareNodes shares)
{
    /// <summary>Cells lighter than this are left out of forecasts: all of them together weigh less than a thousandth of a percent.</summary>
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
        var cells = new List<BeliefCell>();
        for (var i = 0; i < halves.Length; i++)
        {
            for (var j = 0; j < spreads.Length; j++)
            {
                var own = weights.AsSpan((i * spreads.Length + j) * nodes, nodes);
                var sum = 0.0;
                foreach (var weight in own)
                {
                    sum += weight;
                }

                if (sum > LightestCell)
                {
                    cells.Add(new(halves[i], Math.Exp(spreads[j]), own.ToArray(), sum));
                }
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

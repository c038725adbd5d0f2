using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>
/// What is believed of one batch after its looks: a grid over (ln θ50, ln σ) with a weight for each cell, and in each cell
/// weights over the germinable share G. Built by <see cref="BeliefQuadrature"/>; the same looks always give the same grid.
/// </summary>
public sealed class EmergenceBelief
{
    internal EmergenceBelief(SeenCounts seen, BeliefCell[] cells, double[] germinable)
    {
        Seen = seen;
        Cells = cells;
        GerminableNodes = germinable;
    }

    /// <summary>The looks that stand behind it.</summary>
    public SeenCounts Seen { get; }

    /// <summary>Mean and standard deviation of ln θ50 (θ50 in °C·h).</summary>
    public (double Mean, double Deviation) LogHalf => Moments(cell => cell.LogHalf);

    /// <summary>Mean and standard deviation of σ.</summary>
    public (double Mean, double Deviation) Spread => Moments(cell => cell.Spread);

    /// <summary>Mean and standard deviation of the germinable share.</summary>
    public (double Mean, double Deviation) Germinable
    {
        get
        {
            var (mean, square) = (0.0, 0.0);
            foreach (var cell in Cells)
            {
                for (var k = 0; k < GerminableNodes.Length; k++)
                {
                    mean += cell.Weights[k] * GerminableNodes[k];
                    square += cell.Weights[k] * GerminableNodes[k] * GerminableNodes[k];
                }
            }

            return (mean, Math.Sqrt(Math.Max(0, square - mean * mean)));
        }
    }

    internal BeliefCell[] Cells { get; }

    internal double[] GerminableNodes { get; }

    /// <summary>The belief about a batch, from what was believed before and what was seen since.</summary>
    public static EmergenceBelief After(EmergencePrior prior, SeenCounts seen) => BeliefQuadrature.Solve(prior, seen);

    private (double Mean, double Deviation) Moments(Func<BeliefCell, double> value)
    {
        var mean = Cells.Sum(cell => cell.Weight * value(cell));
        var square = Cells.Sum(cell => cell.Weight * (value(cell) - mean) * (value(cell) - mean));
        return (mean, Math.Sqrt(square));
    }
}

/// <summary>One cell of the grid.</summary>
/// <param name="LogHalf">ln θ50.</param>
/// <param name="Spread">σ.</param>
/// <param name="Weights">How likely each germinable share is together with this cell; all weights of all cells add up to 1.</param>
/// <param name="Weight">Their sum.</param>
internal readonly record struct BeliefCell(double LogHalf, double Spread, double[] Weights, double Weight)
{
    /// <summary>Φ((ln W - ln θ50)/σ).</summary>
    public double UpBy(double logWarmHours) => StandardNormal.Cdf((logWarmHours - LogHalf) / Spread);
}

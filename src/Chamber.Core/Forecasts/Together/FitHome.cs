using Chamber.Core.Forecasts.Learning;
using MathNet.Numerics.LinearAlgebra;

namespace Chamber.Core.Forecasts.Together;

/// <summary>One home's batches, weighed by how far they vary together: V = own parts + lots + straying + doubt of the looks. A batch that
/// looks odd beside the others strays further and explains itself.</summary>
internal sealed class FitHome
{
    private const double OddVariance = HomePriors.OddBatchDeviation * HomePriors.OddBatchDeviation;

    // Batches of the same kind are the same row of the design.
    private const double Tiny = 1e-9;

    private readonly FitRow[] rows;
    private readonly int[] used;
    private readonly Matrix<double> design;
    private readonly Matrix<double> lots;
    private readonly Vector<double> seen;
    private readonly double[] odd;
    private FactorKind?[] kinds = [];
    private Vector<double> own;
    private Matrix<double> weight;
    private Matrix<double> weighed;
    private Matrix<double> information;
    private Matrix<double> lotWeighed;
    private PullBound bound;

    public FitHome(FitRow[] rows)
    {
        this.rows = rows;
        used = [.. rows.SelectMany(row => row.Parts.Select(part => part.Place)).Distinct().Order()];
        design = Matrix<double>.Build.Dense(Math.Max(1, rows.Length), Math.Max(1, used.Length));
        for (var row = 0; row < rows.Length; row++)
        {
            foreach (var (place, times) in rows[row].Parts)
            {
                design[row, Array.BinarySearch(used, place)] += times;
            }
        }

        int[] known = [.. rows.Select(row => row.Lot).OfType<int>().Distinct()];
        lots = Matrix<double>.Build.Dense(Math.Max(1, rows.Length), known.Length + rows.Count(row => row.Lot is null) + 1);
        var alone = known.Length;
        for (var row = 0; row < rows.Length; row++)
        {
            lots[row, rows[row].Lot is { } lot ? Array.IndexOf(known, lot) : alone++] = 1;
        }

        seen = Vector<double>.Build.Dense(Math.Max(1, rows.Length), row => row < rows.Length ? rows[row].Speed.Shift : 0);
        (weight, weighed, information, lotWeighed, own) = (design, design, design, design, seen);
        odd = new double[rows.Length];
    }

    /// <summary>How many batches.</summary>
    public int Size => rows.Length;

    /// <summary>Whether it has a batch with some factor.</summary>
    public bool Has(int place) => Array.BinarySearch(used, place) >= 0;

    /// <summary>Works out how its batches weigh, by how far homes lie apart.</summary>
    public void Weigh(IReadOnlyDictionary<FactorKind, double> variances, double straying, FactorKind?[] ownKinds, double uncut)
    {
        kinds = [.. used.Select(place => ownKinds[place])];
        own = Vector<double>.Build.Dense(used.Length, at => kinds[at] is { } kind ? variances[kind] : 0);
        var spread = design * Matrix<double>.Build.DenseOfDiagonalVector(own) * design.Transpose()
            + variances[FactorKind.Lot] * lots * lots.Transpose();
        for (var row = 0; row < rows.Length; row++)
        {
            spread[row, row] += OfItsOwn(row, straying);
        }

        weight = spread.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(rows.Length));
        weighed = weight * design;
        lotWeighed = weight * lots;
        information = design.TransposeThisAndMultiply(weighed);
        var relative = Matrix<double>.Build.DenseOfDiagonalVector(own.PointwiseSqrt());
        relative = relative * information * relative;
        bound = PullBound.Of(relative.Trace(), 2 * relative.PointwiseMultiply(relative).RowSums().Sum(), uncut);
    }

    /// <summary>How likely each batch is an odd one, by what the others say of it.</summary>
    public void FindOdd(Vector<double> middle, double straying, double oddShare)
    {
        var pulls = weight * Rest(middle);
        for (var row = 0; row < rows.Length; row++)
        {
            // Left out, a batch is foretold by the others: V's inverse has the error and its variance.
            var (error, variance) = (pulls[row] / weight[row, row], 1 / weight[row, row] - OfItsOwn(row, straying));
            var rest = Math.Max(0, variance) + rows[row].Speed.Doubt * rows[row].Speed.Doubt;
            var usual = (1 - oddShare) * Density(error, rest + straying);
            var strange = oddShare * Density(error, rest + OddVariance);
            odd[row] = usual + strange > 0 ? strange / (usual + strange) : 1;
        }
    }

    private double OfItsOwn(int row, double straying) =>
        1 / ((1 - odd[row]) / straying + odd[row] / OddVariance) + rows[row].Speed.Doubt * rows[row].Speed.Doubt;

    private static double Density(double error, double variance) => new NormalTerm(1, 0, Math.Sqrt(variance)).Density(error);

    public void AddInformation(Matrix<double> total)
    {
        for (var i = 0; i < used.Length; i++)
        {
            for (var j = 0; j < used.Length; j++)
            {
                total[used[i], used[j]] += information[i, j];
            }
        }
    }

    /// <summary>Adds by how much it pulls each factor away from a middle.</summary>
    public void AddPull(Vector<double> total, Vector<double> middle)
    {
        var (pull, share) = Pull(Rest(middle));
        for (var at = 0; at < used.Length; at++)
        {
            total[used[at]] += share * pull[at];
        }
    }

    /// <summary>Adds, for each kind, how far it lies from the middle, squared, and how far it would by the variances as they are.</summary>
    public void AddSpread(SpreadSums sums, Vector<double> middle, Matrix<double> covariance)
    {
        var rest = Rest(middle);
        var shared = Matrix<double>.Build.Dense(used.Length, used.Length, (i, j) => covariance[used[i], used[j]]);
        var (_, share) = Pull(rest);
        for (var at = 0; at < used.Length; at++)
        {
            if (kinds[at] is { } kind)
            {
                Add(sums.Of(kind), weighed.Column(at), information[at, at], information.Row(at), share * share / bound.Share, 1);
            }
        }

        for (var lot = 0; lot < lots.ColumnCount; lot++)
        {
            var column = lotWeighed.Column(lot);
            Add(sums.Of(FactorKind.Lot), column, lots.Column(lot) * column, column * design, share * share, share * share);
        }

        for (var row = 0; row < rows.Length; row++)
        {
            var usual = share * share * (1 - odd[row]);
            Add(sums.Straying, weight.Column(row), weight[row, row], weighed.Row(row), usual, usual);
        }

        void Add(SpreadSum sum, Vector<double> column, double known, Vector<double> across, double ofSeen, double ofExpected)
        {
            var pull = column * rest;
            sum.Seen += ofSeen * pull * pull;
            sum.Expected += ofExpected * (known - across * shared * across);
        }
    }

    /// <summary>Raises each number to what this home can move a factor by at most; a pull g moves it by covariance · g.</summary>
    public void RaiseToMost(double[] most, Matrix<double> covariance)
    {
        // Whatever z = V⁻¹(x - XF) is, the pulls Xᵀz are cut so that zᵀ(X D Xᵀ)z stays within the bound's square.
        var reach = design * Matrix<double>.Build.DenseOfDiagonalVector(own) * design.Transpose();
        var inverse = (reach + Tiny * reach.Trace() * Matrix<double>.Build.DenseIdentity(rows.Length)).Cholesky();
        for (var factor = 0; factor < most.Length; factor++)
        {
            var step = design * Vector<double>.Build.Dense(used.Length, at => covariance[factor, used[at]]);
            most[factor] = Math.Max(most[factor], bound.Most * Math.Sqrt(step * inverse.Solve(step)));
        }
    }

    // A home's pulls are cut all alike, so that they still belong together: what it says of a home is what it says of its crops.
    private (Vector<double> Pull, double Share) Pull(Vector<double> rest)
    {
        var pull = weighed.TransposeThisAndMultiply(rest);
        var square = pull.PointwiseMultiply(pull) * own;
        return (pull, square > bound.Most * bound.Most ? bound.Most / Math.Sqrt(square) : 1);
    }

    private Vector<double> Rest(Vector<double> middle) => seen - design * Vector<double>.Build.Dense(used.Length, at => middle[used[at]]);
}

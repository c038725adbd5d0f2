using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using MathNet.Numerics.LinearAlgebra;

namespace Chamber.Core.Forecasts.Together;

/// <summary>
/// A level above homes: what a factor is in the middle of all homes, and how far homes lie from it. ln of a batch's warm-hours beside the
/// table = Σ (what homes share + what this home differs by) + lot + its own straying + the doubt of its looks, all normal. What homes share
/// has the prior that a single home has today. The variances are those that make what all homes say likeliest, the shared part integrated
/// out (restricted maximum likelihood: H.D. Patterson and R. Thompson, Biometrika 58 (1971) 545-554), by turns in which each variance is
/// multiplied by what is seen of it over what is expected (D.A. Harville, J. Am. Stat. Assoc. 72 (1977) 320-338), each assumption counting
/// as some homes.
/// </summary>
/// <remarks>
/// A home's pull is cut where one honest home in ten has a larger one (P.J. Huber, Ann. Math. Statist. 35 (1964) 73-101), so that no home
/// counts for more, whatever it says and however many batches it has.
/// </remarks>
public sealed class SharedFit
{
    private const double Settled = 1e-3;

    private readonly FitTerms terms;
    private readonly FitHome[] homes;
    private readonly FitOptions options;
    private readonly Dictionary<FactorKind, double> variances;
    private double batchVariance = HomePriors.BatchDeviation * HomePriors.BatchDeviation;
    private Vector<double> middle;
    private Matrix<double> information;

    private SharedFit(IReadOnlyList<HomeExperience> homes, CropCatalog catalog, FitOptions options)
    {
        this.options = options;
        terms = new(catalog, options.PriorTimes);
        this.homes = [.. homes.Select(terms.Add).Where(home => home.Size > 0)];
        variances = FitOptions.Assumed.ToDictionary(each => each.Key, each => each.Value * each.Value);
        middle = Vector<double>.Build.Dense([.. terms.Factors.Select(factor => factor.PriorMean)]);
        information = terms.PriorPrecision();
    }

    /// <summary>What some homes have taught together; null when none has a batch that can be used.</summary>
    /// <param name="homes">What each gives, its numbers within <see cref="Bounds"/>.</param>
    /// <param name="catalog">The shipped crops. What was stated against another table than theirs is left out.</param>
    public static SharedKnowledge? Of(IReadOnlyList<HomeExperience> homes, CropCatalog catalog) => Of(homes, catalog, new());

    internal static SharedKnowledge? Of(IReadOnlyList<HomeExperience> homes, CropCatalog catalog, FitOptions options)
    {
        ArgumentNullException.ThrowIfNull(homes);
        var fit = new SharedFit(homes, catalog, options);
        return fit.homes.Length == 0 ? null : fit.Learn();
    }

    private SharedKnowledge Learn()
    {
        for (var round = 0; round < options.Rounds; round++)
        {
            Move();
            if (Spread() < Settled)
            {
                break;
            }
        }

        Move();
        return Result();
    }

    /// <summary>One step of the middle of all homes toward where their pulls and the priors balance.</summary>
    private void Move()
    {
        foreach (var home in homes)
        {
            home.Weigh(variances, batchVariance, terms.OwnKinds, options.Uncut);
        }

        information = terms.PriorPrecision();
        foreach (var home in homes)
        {
            home.AddInformation(information);
        }

        var factor = information.Cholesky();
        for (var step = 0; step < options.Steps; step++)
        {
            var pull = terms.PriorPull(middle);
            foreach (var home in homes)
            {
                home.AddPull(pull, middle);
            }

            middle += factor.Solve(pull);
        }

        foreach (var home in homes)
        {
            home.FindOdd(middle, batchVariance, options.OddShare);
        }
    }

    /// <summary>One step of the variances; returns by how much ln of one of them has changed at most.</summary>
    private double Spread()
    {
        var covariance = information.Inverse();
        var sums = new SpreadSums();
        foreach (var home in homes)
        {
            home.AddSpread(sums, middle, covariance);
        }

        var change = 0.0;
        foreach (var (kind, assumed) in FitOptions.Assumed)
        {
            var next = Next(variances[kind], assumed, sums.Of(kind));
            change = Math.Max(change, Math.Abs(Math.Log(next / variances[kind])));
            variances[kind] = next;
        }

        var batch = Next(batchVariance, HomePriors.BatchDeviation, sums.Straying);
        change = Math.Max(change, Math.Abs(Math.Log(batch / batchVariance)));
        batchVariance = batch;
        return change;
    }

    private double Next(double now, double assumed, SpreadSum sum)
    {
        var seen = sum.Seen + options.Worth * assumed * assumed / now / now;
        var expected = sum.Expected + options.Worth / now;
        var range = options.Range * options.Range;
        return expected <= 0 ? now : Math.Clamp(now * seen / expected, assumed * assumed / range, assumed * assumed * range);
    }

    private SharedKnowledge Result()
    {
        var covariance = information.Inverse();
        var most = MovedByOne(covariance);
        var root = covariance.Cholesky().Factor.ToArray();
        return new(
            [.. terms.Factors.Select((factor, at) => new SharedFactor(factor.Kind, factor.Name, middle[at],
                Math.Sqrt(covariance[at, at]), homes.Count(home => home.Has(at)), most[at])
            {
                ShownName = terms.ShownNameOf(factor),
                Family = terms.FamilyOf(factor),
            })],
            root,
            variances.ToDictionary(each => each.Key, each => Math.Sqrt(each.Value)))
        {
            Homes = homes.Length,
            Batches = homes.Sum(home => home.Size),
            BatchDeviation = Math.Sqrt(batchVariance),
        };
    }

    // A home that says something else changes its pull by twice the bound at most; the others hold against it as far as theirs are not cut.
    private double[] MovedByOne(Matrix<double> covariance)
    {
        var most = new double[terms.Factors.Count];
        foreach (var home in homes)
        {
            home.RaiseToMost(most, covariance);
        }

        return Array.ConvertAll(most, one => 2 * one / options.Uncut);
    }
}

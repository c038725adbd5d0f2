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

    // From the middle of all: one home moves it little.
    private const int StepsWithout = 8;

    private readonly FitTerms terms;
    private readonly (string Name, FitHome Rows)[] named;
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
        named = [.. homes.Select(home => (home.Home, terms.Add(home))).Where(home => home.Item2.Size > 0)];
        this.homes = [.. named.Select(home => home.Rows)];
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

    /// <summary>The same with what each home is taught by all the others.</summary>
    /// <param name="homes">What each gives, its numbers within <see cref="Bounds"/>.</param>
    /// <param name="catalog">The shipped crops.</param>
    public static SharedFit? OfAll(IReadOnlyList<HomeExperience> homes, CropCatalog catalog)
    {
        ArgumentNullException.ThrowIfNull(homes);
        var fit = new SharedFit(homes, catalog, new());
        if (fit.homes.Length == 0)
        {
            return null;
        }

        fit.Settle();
        return fit;
    }

    /// <summary>What all of them have taught.</summary>
    public SharedKnowledge All() => Result(homes, middle, information);

    /// <summary>What all but one have taught: how far homes lie apart is known from all, and the middle is found again without it. Null
    /// when none is left.</summary>
    /// <param name="home">Its name; one that gave nothing is none.</param>
    public SharedKnowledge? Without(string home)
    {
        FitHome[] others = [.. named.Where(one => one.Name != home).Select(one => one.Rows)];
        if (others.Length == homes.Length || others.Length == 0)
        {
            return others.Length == 0 ? null : All();
        }

        var known = terms.PriorPrecision();
        foreach (var other in others)
        {
            other.AddInformation(known);
        }

        return Result(others, Balanced(others, middle, known, StepsWithout), known);
    }

    private SharedKnowledge Learn()
    {
        Settle();
        return All();
    }

    private void Settle()
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

        middle = Balanced(homes, middle, information, options.Steps);
        foreach (var home in homes)
        {
            home.FindOdd(middle, batchVariance, options.OddShare);
        }
    }

    private Vector<double> Balanced(FitHome[] some, Vector<double> from, Matrix<double> known, int steps)
    {
        var (at, factor) = (from, known.Cholesky());
        for (var step = 0; step < steps; step++)
        {
            var pull = terms.PriorPull(at);
            foreach (var home in some)
            {
                home.AddPull(pull, at);
            }

            at += factor.Solve(pull);
        }

        return at;
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

    // What none of them had is not learned.
    private SharedKnowledge Result(FitHome[] some, Vector<double> mean, Matrix<double> known)
    {
        var whole = known.Inverse();
        var most = MovedByOne(some, whole);
        int[] kept = [.. Enumerable.Range(0, terms.Factors.Count).Where(at => some.Any(home => home.Has(at)))];
        var covariance = Matrix<double>.Build.Dense(kept.Length, kept.Length, (row, column) => whole[kept[row], kept[column]]);
        return new(
            [.. kept.Select(at => (Factor: terms.Factors[at], At: at)).Select(each => new SharedFactor(each.Factor.Kind,
                each.Factor.Name, mean[each.At], Math.Sqrt(whole[each.At, each.At]), some.Count(home => home.Has(each.At)), most[each.At])
            {
                ShownName = terms.ShownNameOf(each.Factor),
                Family = terms.FamilyOf(each.Factor),
            })],
            covariance.Cholesky().Factor.ToArray(),
            variances.ToDictionary(each => each.Key, each => Math.Sqrt(each.Value)))
        {
            Homes = some.Length,
            Batches = some.Sum(home => home.Size),
            BatchDeviation = Math.Sqrt(batchVariance),
        };
    }

    // A home that says something else changes its pull by twice the bound at most; the others hold against it as far as theirs are not cut.
    private double[] MovedByOne(FitHome[] some, Matrix<double> covariance)
    {
        var most = new double[terms.Factors.Count];
        foreach (var home in some)
        {
            home.RaiseToMost(most, covariance);
        }

        return Array.ConvertAll(most, one => 2 * one / options.Uncut);
    }
}

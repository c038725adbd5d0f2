using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Forecasts.Together;
using Chamber.Testing;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Tests.Forecasts.Together;

/// <summary>
/// The level above homes against restricted maximum likelihood in SciPy, which has its likelihood written out and climbs it by a method of
/// its own: two crops, homes, crops within homes, lots within those, batches. Nothing is assumed beforehand and no pull is cut, as there.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class SharedFitOracleTests(ITestOutputHelper output)
{
    private const double Doubt = 0.01;

    private static readonly string[] Crops = ["tomato", "onion"];

    [Fact]
    public async Task Middles_and_variances_are_those_of_SciPy()
    {
        var rows = Drawn();
        HomeExperience[] homes = [.. rows.GroupBy(row => row.Home).Select(home => new HomeExperience($"{home.Key:x32}",
            [.. home.Select(row => Batch(Some.Crop(Crops[row.Crop]), row.Lot, row.Shift))]))];
        var ours = SharedFit.Of(homes, CropCatalog.Shipped, new()
        {
            Uncut = 1, OddShare = 0, Worth = 0, Range = 1e6, PriorTimes = 1_000, Rounds = 400,
        })!;
        var theirs = (await Oracle.SciPy($$"""
            import numpy as np
            from scipy.optimize import minimize
            rows = np.array([{{string.Join(",", rows.Select(row => $"[{row.Home},{row.Crop},{row.Lot},{Text(row.Shift)}]"))}}])
            homes = [rows[rows[:, 0] == home] for home in np.unique(rows[:, 0])]
            def parts(logs):
                home, crop, lot, batch = np.exp(logs)
                gram, right, rest, log_det = np.zeros((2, 2)), np.zeros(2), 0.0, 0.0
                for d in homes:
                    same_crop, same_lot = d[:, None, 1] == d[None, :, 1], d[:, None, 2] == d[None, :, 2]
                    v = home + crop * same_crop + lot * same_lot + batch * np.eye(len(d))
                    x = np.column_stack([d[:, 1] == 0, d[:, 1] == 1]).astype(float)
                    w = np.linalg.solve(v, np.column_stack([x, d[:, 3]]))
                    gram, right = gram + x.T @ w[:, :2], right + x.T @ w[:, 2]
                    rest, log_det = rest + d[:, 3] @ w[:, 2], log_det + np.linalg.slogdet(v)[1]
                middle = np.linalg.solve(gram, right)
                return (log_det + np.linalg.slogdet(gram)[1] + rest - right @ middle) / 2, middle, gram
            best = minimize(lambda logs: parts(logs)[0], np.log([0.02, 0.02, 0.04, 0.01]), method="Nelder-Mead",
                            options={"xatol": 1e-6, "fatol": 1e-9, "maxiter": 4000})
            _, middle, gram = parts(best.x)
            print(*np.exp(best.x), *middle, *np.sqrt(np.diag(np.linalg.inv(gram))))
            """)).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries).Select(text => double.Parse(text, CultureInfo.InvariantCulture))
            .ToArray();

        // Home and method are the same column here: only their sum is known, and SciPy has one of them.
        double[] variances =
        [
            Square(ours.Apart(FactorKind.Home)) + Square(ours.Apart(FactorKind.Method)), Square(ours.Apart(FactorKind.Crop)),
            Square(ours.Apart(FactorKind.Lot)), Square(ours.BatchDeviation) + Doubt * Doubt,
        ];
        var middles = Crops.Select(crop => ours.PartsOf(FactorPriors.TermsOf(
            new(Some.Crop(crop).Id, Some.Crop(crop).Profile, SowingMethod.CoveredMix, null) { Family = CropFamilies.Of(Some.Crop(crop)) })))
            .Select(parts => (Mean: parts.Sum(part => part.Times * part.Factor.PriorMean),
                Deviation: Math.Sqrt(parts.Sum(part => part.Times * part.Times)))).ToArray();
        output.WriteLine($"ours {string.Join(" ", variances.Select(Text))} {string.Join(" ", middles)}; "
            + $"SciPy {string.Join(" ", theirs.Select(Text))}");
        Assert.All(variances.Zip(theirs), pair => Assert.Equal(pair.Second, pair.First, 0.02 * pair.Second));
        Assert.All(middles.Select((ours, at) => (ours, mean: theirs[4 + at], deviation: theirs[6 + at])), pair =>
        {
            Assert.Equal(pair.mean, pair.ours.Mean, 0.002);
            Assert.Equal(pair.deviation, pair.ours.Deviation, 0.02 * pair.deviation);
        });
    }

    private static List<(int Home, int Crop, int Lot, double Shift)> Drawn()
    {
        var random = new Random(51);
        var rows = new List<(int Home, int Crop, int Lot, double Shift)>();
        for (var home = 0; home < 60; home++)
        {
            var ofHome = Normal.Sample(random, 0, 0.15);
            for (var crop = 0; crop < 2; crop++)
            {
                var ofCrop = (crop == 0 ? 0.2 : -0.1) + Normal.Sample(random, 0, 0.12);
                for (var lot = 0; lot < 2 + home % 2; lot++)
                {
                    var ofLot = Normal.Sample(random, 0, 0.2);
                    rows.AddRange(Enumerable.Range(0, 2 + (home + lot) % 2)
                        .Select(_ => (home, crop, 10 * crop + lot + 1, ofHome + ofCrop + ofLot + Normal.Sample(random, 0, 0.1))));
                }
            }
        }

        return rows;
    }

    private static BatchExperience Batch(Crop crop, int lot, double shift) =>
        new(crop.Id, crop.Profile.HalfWarmHours.CelsiusHours, crop.Profile.Cardinals.Base.Celsius, SowingMethod.CoveredMix)
        {
            Lot = lot, Speed = new(shift, Doubt),
        };

    private static double Square(double value) => value * value;

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}

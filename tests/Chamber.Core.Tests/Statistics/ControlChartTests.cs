using System.Globalization;
using Chamber.Core.Statistics;
using Chamber.Core.Tests.Alerts;
using Chamber.Testing;

namespace Chamber.Core.Tests.Statistics;

/// <summary>Published charts (tests/cases/control-charts/README.md says how each table came here) and R's package spc, asked while the
/// tests run.</summary>
public sealed class ControlChartTests
{
    [Fact]
    public void Cusum_of_the_NIST_example_has_the_printed_sums_and_first_signals_at_14()
    {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3.
        var cusum = default(Cusum);
        var signals = new List<int>();
        foreach (var row in Table("nist_cusum.csv"))
        {
            cusum = cusum.Add(row[1] - 325, 0.3175);
            Assert.Equal(row[2], cusum.High, 1e-9);
            Assert.Equal(row[3], cusum.Low, 1e-9);
            if (cusum.Signals(4.1959))
            {
                signals.Add((int)row[0]);
            }
        }

        Assert.Equal(Enumerable.Range(14, 7), signals);
    }

    [Fact]
    public void Ewma_of_the_NIST_example_has_the_printed_values_and_never_signals()
    {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4.
        var ewma = new Ewma(50, 0.3);
        Assert.Equal(52.5884, 50 + ewma.LimitAtLast(2.0539, 3), 3);
        foreach (var row in Table("nist_ewma.csv"))
        {
            ewma = ewma.Add(row[1]);
            Assert.Equal(row[2], ewma.Value, 0.0051);
            Assert.InRange(ewma.Value, 50 - ewma.LimitAtLast(2.0539, 3), 50 + ewma.LimitAtLast(2.0539, 3));
        }
    }

    [Fact]
    public void Both_charts_of_Montgomerys_example_first_signal_at_29()
    {
        // Montgomery, Introduction to Statistical Quality Control: k 0.5, h 5; EWMA λ 0.1, L 2.7.
        var cusum = default(Cusum);
        var ewma = new Ewma(10, 0.1);
        var cusumSignals = new List<int>();
        var ewmaSignals = new List<int>();
        foreach (var row in Table("montgomery_cusum_ewma.csv"))
        {
            cusum = cusum.Add(row[1] - 10, 0.5);
            ewma = ewma.Add(row[1]);
            Assert.Equal(row[2], cusum.High, 1e-9);
            Assert.Equal(row[3], cusum.Low, 1e-9);
            Assert.Equal(row[4], ewma.Value, 1e-4);
            Assert.Equal(row[6], 10 + ewma.LimitNow(1, 2.7), 1e-4);
            if (cusum.Signals(5))
            {
                cusumSignals.Add((int)row[0]);
            }

            if (Math.Abs(ewma.Value - 10) > ewma.LimitNow(1, 2.7))
            {
                ewmaSignals.Add((int)row[0]);
            }
        }

        Assert.Equal([29, 30], cusumSignals);
        Assert.Equal([29, 30], ewmaSignals);
    }

    [Fact]
    public void The_shift_behind_a_signal_is_estimated_as_Montgomery_does()
    {
        // Montgomery: at observation 29 C⁺ = 5.28 with N⁺ = 7, so the shift is 0.5 + 5.28/7 = 1.25.
        var cusum = default(Cusum);
        foreach (var row in Table("montgomery_cusum_ewma.csv").Take(29))
        {
            cusum = cusum.Add(row[1] - 10, 0.5);
        }

        Assert.Equal(7, cusum.HighCount);
        Assert.Equal(1.25, cusum.ShiftEstimate(0.5), 2);
    }

    [Theory]
    // k 0.5. For h 4: J.M. Lucas & R.B. Crosier, Technometrics 24 (1982) 199-205, table 1, as R's package spc quotes it in its examples.
    // For h 5: Montgomery's table of run lengths, from memory. All of them are asked of R below.
    [InlineData(4, 0, 168, 1)]
    [InlineData(4, 0.5, 26.6, 0.2)]
    [InlineData(4, 1, 8.38, 0.02)]
    [InlineData(4, 2, 3.34, 0.02)]
    [InlineData(5, 0, 465, 1)]
    [InlineData(5, 0.5, 38.0, 0.3)]
    [InlineData(5, 1, 10.4, 0.05)]
    public void Average_run_length_is_the_published_one(double limit, double shift, double published, double tolerance) =>
        Assert.Equal(published, CusumRunLength.TwoSided(0.5, limit, shift), tolerance);

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task Average_run_lengths_are_those_that_R_solves_the_integral_equation_for()
    {
        // S. Knoth's package spc: Nyström's method on the integral equation, where this program uses a Markov chain.
        (double Limit, double Shift)[] asked = [(3, 0), (4, 0), (4, 0.5), (4, 1), (5, 0), (5, 0.5), (5, 1), (5, 2)];
        var script = "library(spc)\n"
            + string.Concat(
            asked.Select(one => string.Create(CultureInfo.InvariantCulture,
            $"cat(xcusum.arl(0.5, {one.Limit}, {one.Shift}, sided='two', r=60), '\\n')\n")));
        var theirs = (await Oracle.R(script)).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.Parse(text, CultureInfo.InvariantCulture));
        Assert.All(asked.Zip(theirs),
            pair => Assert.Equal(pair.Second, CusumRunLength.TwoSided(0.5, pair.First.Limit, pair.First.Shift), 1e-3 * pair.Second));
    }

    [Fact]
    public void A_long_seeded_simulation_bears_the_run_length_of_465_out()
    {
        var random = new Random(54);
        var runs = 4000;
        long steps = 0;
        for (var run = 0; run < runs; run++)
        {
            var cusum = default(Cusum);
            while (!cusum.Signals(5))
            {
                cusum = cusum.Add(Seeded.Normal(random), 0.5);
                steps++;
            }
        }

        // The standard error of the mean of 4000 nearly exponential lengths is 465/63 = 7.4.
        Assert.InRange(steps / (double)runs, 465 - 22, 465 + 22);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.5)]
    [InlineData(0.8)]
    public void A_long_run_variance_limit_keeps_the_run_length_of_correlated_values(double phi)
    {
        // AR(1) with unit variance has the long-run variance (1+φ)/(1-φ).
        const double wanted = 1000;
        var limit = CusumRunLength.LimitFor(0.1, (1 + phi) / (1 - phi), wanted);
        var random = new Random(7);
        long steps = 0;
        const int runs = 400;
        for (var run = 0; run < runs; run++)
        {
            var sum = 0.0;
            var value = Seeded.Normal(random);
            do
            {
                value = phi * value + Math.Sqrt(1 - phi * phi) * Seeded.Normal(random);
                sum = Math.Max(0, sum + value - 0.1);
                steps++;
            }
            while (sum <= limit);
        }

        // Discrete steps err to longer runs; never to many more false signals than wanted.
        Assert.InRange(steps / (double)runs, 0.9 * wanted, 1.7 * wanted);
    }

    private static IEnumerable<double[]> Table(string name) =>
        File.ReadLines(Path.Combine(WatchScriptFiles.Folder, "..", "control-charts", name)).Skip(1)
            .Select(line => line.Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray());
}

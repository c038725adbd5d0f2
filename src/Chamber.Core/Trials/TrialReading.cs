using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Trials;

/// <summary>Turns what a search found into numbers for people, and says what it could not find.</summary>
internal static class TrialReading
{
    public static TrialFit Of(
        TrialSeeds[] trials, (TrialPoint Point, double Log) best, TrialEnds[] ends, OwnCurve[] curves, TrialGoodness goodness)
    {
        // Without the base, θ50 has no zero to be counted from.
        var @base = ends[(int)TrialNumber.Base];
        var half = ends[(int)TrialNumber.LogFastest];
        half = half with { IsLevel = half.IsLevel || @base.IsLevel, High = @base.Low is null ? null : half.High };
        TrialCurve[] each = [.. curves.Select(curve => Curve(curve, trials, curves, best.Point))];
        return new()
        {
            Base = Estimate(@base, value => value),
            OptimumLow = Estimate(ends[(int)TrialNumber.OptimumLow], value => value),
            OptimumHigh = Estimate(ends[(int)TrialNumber.OptimumHigh], value => value),
            Ceiling = Estimate(ends[(int)TrialNumber.Ceiling], value => value),
            HalfWarmHours = Estimate(half, Math.Exp),
            Spread = Estimate(ends[(int)TrialNumber.LogSpread], Math.Exp),
            GerminableShare = Share(ends[(int)TrialNumber.Angle]),
            Goodness = goodness,
            Curves = each,
            Choice = TrialChoice.Of(each, curves, best.Point),
            ShareDifference = TrialShares.Difference(trials, best),
            Doubts = Doubts(trials, ends, half),
            Tallies = [.. trials.Select(trial => new TrialTally(Temperature.FromCelsius(trial.Celsius), trial.Seeds, trial.Up))],
            LogLikelihood = best.Log,
            Cardinals = best.Point.Cardinals,
            Half = WarmHours.FromCelsiusHours(Math.Exp(best.Point.LogHalfWarmHours)),
            SpreadUsed = best.Point.Spread,
            ShareUsed = best.Point.Share,
        };
    }

    private static TrialCurve Curve(OwnCurve curve, TrialSeeds[] trials, OwnCurve[] curves, TrialPoint law)
    {
        var isUp = curve.Trial.Up > 0;
        return new(
            Temperature.FromCelsius(curve.Trial.Celsius),
            isUp ? Math.Exp(curve.LogHalf) : null,
            isUp ? curve.Spread : null,
            curve.Share,
            Days(law.LogHalfDays(curve.Trial.Celsius)),
            isUp ? Days(LeftOut.ByLaw(trials, curve.Trial)) : null,
            isUp ? Days(LeftOut.BySmoothCurve(curves, curve.Trial)) : null);

        static double? Days(double? log) => log is { } known && double.IsFinite(known) ? Math.Exp(known) : null;
    }

    private static TrialEstimate Estimate(TrialEnds ends, Func<double, double> scale) => new(
        ends.Low is { } low ? scale(low) : null,
        ends.IsLevel ? null : scale(ends.Mid),
        ends.High is { } high ? scale(high) : null);

    /// <summary>A share has its own ends, none and all.</summary>
    private static TrialEstimate Share(TrialEnds ends) => new(
        ends.Low is { } low ? Square(low) : 0, Square(ends.Mid), ends.High is { } high ? Square(high) : 1);

    private static double Square(double angle) => Math.Pow(Math.Sin(angle), 2);

    private static List<TrialDoubt> Doubts(TrialSeeds[] trials, TrialEnds[] ends, TrialEnds half)
    {
        var coolest = Celsius(trials.First(trial => trial.Up > 0).Celsius);
        var warmest = Celsius(trials.Last(trial => trial.Up > 0).Celsius);
        var doubts = new List<TrialDoubt>();
        Add("base", ends[(int)TrialNumber.Base],
            $"too few trials are cool enough to be slow; the coolest with seedlings was {coolest}: add one or two cooler ones");
        Add("optimumLow", ends[(int)TrialNumber.OptimumLow],
            $"too few trials tell where it stops getting faster: add one between those at hand, or above {warmest}");
        Add("optimumHigh", ends[(int)TrialNumber.OptimumHigh],
            $"too few trials are warm enough to be slowed by heat; the warmest with seedlings was {warmest}: add two that are warmer");
        Add("ceiling", ends[(int)TrialNumber.Ceiling],
            $"too few trials are warm enough to be slowed by heat; the warmest with seedlings was {warmest}: add two that are warmer");
        Add("halfWarmHours", half, "without a base there is no zero to count warm-hours from: add one or two cooler trials");
        Add("spread", ends[(int)TrialNumber.LogSpread],
            "the looks were too far apart to see seedlings of one trial come up one after another: look more often");
        return doubts;

        void Add(string what, TrialEnds found, string why)
        {
            if (found.IsLevel)
            {
                doubts.Add(new(what, $"{Range(what, found)}: {why}."));
            }
        }
    }

    private static string Range(string what, TrialEnds ends)
    {
        var scale = what is "halfWarmHours" or "spread" ? Math.Exp : (Func<double, double>)(value => value);
        var unit = what switch { "spread" => "", "halfWarmHours" => " °C·h", _ => " °C" };
        return (ends.Low, ends.High) switch
        {
            ({ } low, { } high) => $"anything from {Text(scale(low))} to {Text(scale(high))}{unit} fits equally well",
            ({ } low, null) => $"anything above {Text(scale(low))}{unit} fits",
            (null, { } high) => $"anything below {Text(scale(high))}{unit} fits",
            _ => "anything fits",
        };
    }

    private static string Celsius(double celsius) => Text(celsius) + " °C";

    private static string Text(double value) => value.ToString(Math.Abs(value) < 10 ? "0.##" : "0.#", CultureInfo.InvariantCulture);
}

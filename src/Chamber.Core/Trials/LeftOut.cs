using MathNet.Numerics;

namespace Chamber.Core.Trials;

/// <summary>Foretells the days to half at each temperature from the other temperatures alone: by the law, and by a smooth curve.</summary>
internal static class LeftOut
{
    /// <summary>A parabola has three numbers, and one temperature more tells whether it bends.</summary>
    private const int SmoothMin = 4;

    /// <summary>The law needs as many temperatures with seedlings to be fitted at all.</summary>
    private const int LawMin = 2;

    /// <summary>ln of days to half at a temperature by the law fitted to the others; null when that cannot be said.</summary>
    public static double? ByLaw(TrialSeeds[] trials, TrialSeeds left)
    {
        TrialSeeds[] others = [.. trials.Where(trial => trial != left)];
        if (others.Count(trial => trial.Up > 0) < LawMin)
        {
            return null;
        }

        // As in a saved fit: a slowing by heat that no trial has shown is not made up, and the plateau goes on.
        var celsius = Math.Min(left.Celsius, others.Where(trial => trial.Up > 0).Max(trial => trial.Celsius));
        var days = new TrialSearch(others).Best().Point.LogHalfDays(celsius);
        return double.IsFinite(days) ? days : null;
    }

    /// <summary>The same by least squares of a parabola through ln of the others' rates, rate = 1/days to half.</summary>
    public static double? BySmoothCurve(IReadOnlyList<OwnCurve> curves, TrialSeeds left)
    {
        var others = curves.Where(curve => curve.Trial != left && curve.Trial.Up > 0).ToArray();
        if (others.Length < SmoothMin)
        {
            return null;
        }

        return Smooth(others)(left.Celsius);
    }

    /// <summary>ln of days to half by a parabola through ln of the rates of four temperatures with seedlings or more.</summary>
    public static Func<double, double> Smooth(IReadOnlyList<OwnCurve> curves)
    {
        OwnCurve[] up = [.. curves.Where(curve => curve.Trial.Up > 0)];
        var parabola = Fit.Polynomial(
            Array.ConvertAll(up, curve => curve.Trial.Celsius), Array.ConvertAll(up, curve => -curve.LogHalf), 2);
        return celsius => -(parabola[0] + parabola[1] * celsius + parabola[2] * celsius * celsius);
    }
}

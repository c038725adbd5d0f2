using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Trials;

/// <summary>How far temperatures foretold from the others alone lie off: root mean square of ln days, each counted as 2 at most.</summary>
/// <param name="Law">By the law.</param>
/// <param name="Smooth">By a parabola through ln of the rates.</param>
public readonly record struct LeftOutErrors(double Law, double Smooth)
{
    private const double Most = 2;

    /// <summary>Whether the parabola foretells them better.</summary>
    public bool SmoothIsBetter => Smooth < Law;

    internal static LeftOutErrors Of(IReadOnlyCollection<TrialCurve> left)
    {
        return new(Error(curve => curve.WithoutHalfDays), Error(curve => curve.SmoothHalfDays));

        double Error(Func<TrialCurve, double?> foretold) => Math.Sqrt(left.Average(curve =>
            Math.Pow(foretold(curve) is { } days ? Math.Min(Most, Math.Abs(Math.Log(days / curve.HalfDays!.Value))) : Most, 2)));
    }
}

/// <summary>
/// Whether a fit forecasts by its law or by a smooth curve, a parabola through ln of the rates: whichever foretells temperatures that were
/// left out better, chosen for those between the coldest and the warmest with seedlings, and for the two ends and what lies beyond them.
/// </summary>
/// <param name="Inside">Errors of those between.</param>
/// <param name="Edges">Errors of the coldest and the warmest.</param>
/// <param name="HalfDays">Days to half at temperatures, for every kelvin, where the smooth curve is chosen; null where the law is, for
/// both.</param>
public sealed record TrialChoice(LeftOutErrors Inside, LeftOutErrors Edges, IReadOnlyList<HalfDaysAt>? HalfDays)
{
    /// <summary>With fewer temperatures nothing lies between after one is left out of four.</summary>
    private const int TemperaturesMin = 5;

    /// <summary>How far beyond the tried temperatures days are said, K: there the doubt is at its most.</summary>
    private const int Beyond = 5;

    /// <summary>Null where too few temperatures tell.</summary>
    internal static TrialChoice? Of(IReadOnlyList<TrialCurve> curves, IReadOnlyList<OwnCurve> own, TrialPoint law)
    {
        TrialCurve[] up = [.. curves.Where(curve => curve is { HalfDays: not null, SmoothHalfDays: not null })];
        if (up.Length < TemperaturesMin)
        {
            return null;
        }

        var (inside, edges) = (LeftOutErrors.Of(up[1..^1]), LeftOutErrors.Of([up[0], up[^1]]));
        var smooth = LeftOut.Smooth(own);
        var days = inside.SmoothIsBetter || edges.SmoothIsBetter ? Days().ToArray() : null;
        return new(inside, edges, days);

        IEnumerable<HalfDaysAt> Days()
        {
            var (low, high) = (up[0].Temperature.Celsius, up[^1].Temperature.Celsius);
            var within = inside.SmoothIsBetter ? smooth : law.LogHalfDays;
            var outside = edges.SmoothIsBetter ? smooth : law.LogHalfDays;
            var steps = (int)Math.Ceiling(high - low);
            for (var i = Beyond; i > 0; i--)
            {
                foreach (var at in Near(low, low - i))
                {
                    yield return at;
                }
            }

            for (var i = 0; i <= steps; i++)
            {
                var celsius = low + (high - low) * i / steps;
                yield return At(celsius, within(celsius));
            }

            for (var i = 1; i <= Beyond; i++)
            {
                foreach (var at in Near(high, high + i))
                {
                    yield return at;
                }
            }

            // Both ways meet at the end of what was tried; where nothing comes up, nothing is said.
            IEnumerable<HalfDaysAt> Near(double end, double celsius)
            {
                var log = outside(celsius) + within(end) - outside(end);
                return double.IsFinite(log) && Math.Exp(log) <= 1000 ? [At(celsius, log)] : [];
            }
        }
    }

    private static HalfDaysAt At(double celsius, double log) =>
        new(Temperature.FromCelsius(Math.Round(celsius, 2)), Math.Round(Math.Exp(log), 3));
}

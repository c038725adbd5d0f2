using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;

namespace Chamber.Core.Spots;

/// <summary>
/// Scores a surveyed spot for a crop: 100 × speed × stand, with an 80 % interval by resampling whole days (day-block bootstrap; B. Efron,
/// 1979, H.R. Künsch, 1989) and by shifting all of them by what the probes may be off. Heat and cold
/// take their share of the stand by the day's mean temperature of progress, as in forecasts (<see cref="StandTally"/>).
/// </summary>
public sealed class SuitabilityScore
{
    private const int Resamples = 200;
    private const double HarmfulCelsius = 40;
    private const double ScoreMaxAfterHarm = 40;
    private const double LowQuantile = 0.1;

    /// <summary>One in ten of a normal distribution lies further out.</summary>
    private const double LowDeviate = 1.2816;

    private readonly int seed;
    private readonly Dictionary<int, int[]> draws = [];

    /// <param name="random">A seeded source: the same seed gives the same intervals, whatever the order of the questions.</param>
    public SuitabilityScore(Random random) => seed = random.Next();

    /// <summary>The suitability of a spot for a crop. A survey without readings scores 0 to 100 with no confidence.</summary>
    public Suitability Of(Crop crop, Survey survey)
    {
        var (usual, days) = CropDays.Of(survey, crop);
        var rule = new Rule(crop, survey);
        var score = rule.Score(usual);
        var (low, high) = Between(rule, days, score, Joined(Reach(crop, survey, score), BeyondTrials(crop, usual, score)));
        var parts = new SuitabilityParts(
            rule.Speed(usual),
            rule.Stand(usual) * crop.Stand.Best,
            crop.Stand.Best,
            usual.HoursBelow,
            usual.HoursAbove,
            survey.Swing,
            WarmHours.FromCelsiusHours(Math.Max(0, usual.Progress)));
        return new(
            score, low, high, survey.Confidence,
            rule.Speed(usual) > 0 ? crop.Profile.HalfWarmHours.CelsiusHours / usual.Progress : null,
            parts, survey.Stage, rule.Harmful);
    }

    /// <summary>How far down and up the score goes when the whole survey is shifted by the probes' accuracy either way.</summary>
    private static (double Down, double Up) Reach(Crop crop, Survey survey, double score)
    {
        var scores = new[] { -survey.Accuracy, survey.Accuracy }
            .Select(shift => new Rule(crop, survey, shift).Score(CropDays.Shifted(survey, crop, shift)))
            .Append(score).ToArray();
        return (score - scores.Min(), scores.Max() - score);
    }

    /// <summary>What a profile fitted to somebody's trials does not know beyond them bears on the speed, and so on the score.</summary>
    private static (double Down, double Up) BeyondTrials(Crop crop, CropDay usual, double score)
    {
        var doubt = usual.Progress > 0 ? Untried.At(crop.Profile, usual.ProgressTemperature) : 0;
        var factor = Math.Exp(LowDeviate * doubt);
        return (score - score / factor, score * factor - score);
    }

    private static (double Down, double Up) Joined((double Down, double Up) one, (double Down, double Up) other) =>
        (Both(one.Down, other.Down), Both(one.Up, other.Up));

    /// <summary>
    /// A single day says nothing of how days differ; few days show less than their spread, so the interval is widened by √(n/(n-1)). How
    /// days differ and how far a probe is off have nothing to do with each other, so their reaches add as squares: neither alone gives a
    /// wider interval.
    /// </summary>
    private (double Low, double High) Between(Rule rule, CropDay[] days, double score, (double Down, double Up) shifted)
    {
        if (days.Length < 2)
        {
            return (0, rule.Harmful ? ScoreMaxAfterHarm : 100);
        }

        var drawn = Draws(days.Length);
        var scores = new double[Resamples];
        for (var i = 0; i < Resamples; i++)
        {
            var sum = default(CropDay);
            for (var j = 0; j < days.Length; j++)
            {
                sum += days[drawn[i * days.Length + j]];
            }

            scores[i] = rule.Score(sum * (1.0 / days.Length));
        }

        Array.Sort(scores);
        var widen = Math.Sqrt(days.Length / (days.Length - 1.0));
        var low = score - Both(Math.Max(0, score - Quantile(scores, LowQuantile)) * widen, shifted.Down);
        var high = score + Both(Math.Max(0, Quantile(scores, 1 - LowQuantile) - score) * widen, shifted.Up);
        return (Math.Max(0, low), Math.Min(rule.Harmful ? ScoreMaxAfterHarm : 100, high));
    }

    private static double Both(double one, double other) => Math.Sqrt(one * one + other * other);

    private static double Quantile(double[] sorted, double share) => sorted[(int)Math.Round(share * (sorted.Length - 1))];

    private int[] Draws(int days)
    {
        if (!draws.TryGetValue(days, out var drawn))
        {
            var random = new Random(seed ^ days);
            drawn = [.. Enumerable.Range(0, Resamples * days).Select(_ => random.Next(days))];
            draws.Add(days, drawn);
        }

        return drawn;
    }

    private sealed class Rule
    {
        private readonly Crop crop;
        private readonly double bestDay;
        private readonly double leastDay;

        public Rule(Crop crop, Survey survey, TemperatureDifference warmer = default)
        {
            this.crop = crop;
            bestDay = crop.Profile.Cardinals.BestWarmth * 24;
            leastDay = crop.Profile.WaitDays is { } wait ? crop.Profile.HalfWarmHours.CelsiusHours / wait : 0;
            Harmful = survey.Warmest is { } warmest
                && (warmest + warmer).Celsius >= Math.Min(HarmfulCelsius, crop.Profile.Cardinals.Ceiling.Celsius);
        }

        public bool Harmful { get; }

        public double Score(CropDay day)
        {
            var score = 100 * Speed(day) * Stand(day);
            return Harmful ? Math.Min(ScoreMaxAfterHarm, score) : score;
        }

        /// <summary>Share of the best speed, 0 to 1; 0 where the seed would rot before half of it was up.</summary>
        public double Speed(CropDay day) => day.Progress < leastDay ? 0 : Math.Clamp(day.Progress / bestDay, 0, 1);

        /// <summary>Share of the best stand, 0 to 1.</summary>
        public double Stand(CropDay day) => day.Progress <= 0 ? 0 : crop.Stand.RelativeAt(day.ProgressTemperature);
    }
}

using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Trials;
using Chamber.Service.Configuration;

namespace Chamber.Service.Home.Writing;

/// <summary>A crop's profile from somebody's own trials, kept as a crop of their own.</summary>
internal static class OwnTrials
{
    /// <summary>How far above its fastest temperatures a ceiling that no trial has shown is put, K. Common practice, no source.</summary>
    private const double UnknownCeilingAbove = 15;

    /// <exception cref="BadInputException">The counts tell no profile; the message says what is missing.</exception>
    public static TrialFit Fit(IReadOnlyList<TrialCount> counts, string of)
    {
        try
        {
            return TrialFit.Of(counts);
        }
        catch (FormatException problem)
        {
            throw new BadInputException($"{of}: {problem.Message}", problem);
        }
    }

    /// <param name="home">The home.</param>
    /// <param name="crop">Under which name.</param>
    /// <param name="fit">What the trials came to.</param>
    /// <param name="of">What they are called in the source of the numbers.</param>
    /// <param name="counted">What was counted; null for a shoot.</param>
    /// <param name="poisonous">"no", or which part is poisonous and how; null for what was said before.</param>
    /// <exception cref="BadInputException">It cannot be a crop; nothing was written.</exception>
    public static void Save(HomeReader home, CropId crop, TrialFit fit, string of, EmergenceEvent? counted, string? poisonous)
    {
        // What somebody answered stays when the trials are fitted again.
        var numbers = Numbers(fit, of, counted) with { Poisonous = (string.IsNullOrWhiteSpace(poisonous) ? null
            : BadInputException.In("poisonous", () => Core.Bounds.Note.Require(poisonous.Trim()))) ?? OwnCrops.Kept(home, crop).Poisonous };

        // Refused here rather than by every answer after it.
        BadInputException.In("save", () => home.Catalog.With([numbers.ToChange(crop)]));
        home.Writing(home.Now).Crops.Save(crop, CropFile.Write(numbers));
    }

    /// <summary>What a forecast works with.</summary>
    private static CropNumbers Numbers(TrialFit fit, string of, EmergenceEvent? counted)
    {
        var half = fit.HalfWarmHours;
        var doubt = half is { Low: { } low, High: { } high } ? Math.Log(high / low) / 2 / 1.96 : 0.5;
        var tried = fit.Tried;
        var (optimumHigh, ceiling) = WarmEnd(fit, tried.High);
        return new()
        {
            Base = Rounded(fit.Cardinals.Base),
            OptimumLow = Rounded(fit.Cardinals.OptimumLow),
            OptimumHigh = Rounded(optimumHigh),
            Ceiling = Rounded(ceiling),
            Tried = new(tried.Low, tried.High),
            HalfDays = fit.Choice?.HalfDays is { } days ? [.. days.Select(each => new HalfDaysText(each.At, each.Days))] : null,
            HalfWarmHours = Math.Round(fit.Half.CelsiusHours, 1),
            Spread = RoundedSpread(fit.SpreadUsed),
            SpreadEnds = fit.SpreadChange is { } change
                ? new(RoundedSpread(change.AtColdest), RoundedSpread(change.AtWarmest)) : null,
            HalfDeviation = Math.Round(Math.Min(2, Math.Sqrt(0.15 * 0.15 + doubt * doubt)), 3),
            BestShare = Math.Round(fit.ShareUsed, 4),
            Event = counted,
            Source = Source(fit, of),
        };
    }

    /// <summary>Where no trial was warm enough to be slowed by heat, a slowing is not made up just beyond the warmest: it goes on as there,
    /// and the doubt grows.</summary>
    private static (Temperature OptimumHigh, Temperature Ceiling) WarmEnd(TrialFit fit, Temperature warmest)
    {
        var unknown = fit.Doubts.Select(doubt => doubt.What).ToHashSet();
        var high = unknown.Contains("optimumHigh") ? Warmer(fit.Cardinals.OptimumHigh, warmest) : fit.Cardinals.OptimumHigh;
        return (high, unknown.Contains("ceiling")
            ? Warmer(fit.Cardinals.Ceiling, high + TemperatureDifference.FromKelvins(UnknownCeilingAbove)) : fit.Cardinals.Ceiling);

        static Temperature Warmer(Temperature one, Temperature other) => one > other ? one : other;
    }

    private static double RoundedSpread(double spread) => Math.Round(Math.Clamp(spread, 0.01, 2), 4);

    private static Temperature Rounded(Temperature temperature) => Temperature.FromCelsius(Math.Round(temperature.Celsius, 2));

    private static string Source(TrialFit fit, string of)
    {
        var seeds = fit.Tallies.Sum(tally => tally.Seeds);
        var assumed = fit.Doubts.Count == 0 ? ""
            : $" Assumed, because the trials cannot tell: {string.Join(", ", fit.Doubts.Select(doubt => FitWords.Name(doubt.What)))}.";
        return string.Create(CultureInfo.InvariantCulture,
            $"Fitted to {of}: {seeds} seeds at {fit.Tallies.Count} temperatures, by maximum likelihood{(fit.Choice?.HalfDays is null ? "" : ", with a smooth curve")}.{assumed}");
    }
}

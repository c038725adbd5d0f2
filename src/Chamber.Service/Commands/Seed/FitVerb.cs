using System.CommandLine;
using System.Globalization;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Trials;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Writing;
using Chamber.Service.Import;

namespace Chamber.Service.Commands.Seed;

/// <summary>A crop's profile from somebody's own trials at steady temperatures.</summary>
internal static class FitVerb
{
    /// <summary>How far above its fastest temperatures a ceiling that no trial has shown is put, K. Common practice, no source.</summary>
    private const double UnknownCeilingAbove = 15;

    public static Verb Create()
    {
        var trials = new Option<string>("--trials") { Required = true, HelpName = "FILE",
            Description = "CSV with columns temperature,from,to,count: °C, and days since sowing; leave to empty for seeds not "
                + "up at the end; a column dish if a temperature had several." };
        var save = Typed.Option<CropId?>("--save", "NAME", "Save the result as your own crop; forecast --crop NAME then uses it.",
            text => new CropId(text));
        var counted = Typed.Option<EmergenceEvent?>("--event", "EVENT", "What was counted: shoot-seen (default) or root-seen.",
            text => Choice.Parse<EmergenceEvent>(text));
        var poisonous = new Option<string?>("--poisonous") { HelpName = "WORDS",
            Description = "For a crop you save: no, or which part is poisonous and how." };
        return new Verb(
            "fit",
            "Fits a crop's profile to your own trials: base, plateau, ceiling, warm-hours, spread and germinable share, with intervals.",
            "chamber fit --trials my-tomato.csv",
            "chamber fit --trials my-tomato.csv --save my-tomato --json") { trials, save, counted, poisonous }
            .Does(invocation =>
            {
                var path = invocation.Parse.GetValue(trials)!;
                var fit = Fit(path);
                var name = invocation.Parse.GetValue(save);
                if (name is { } crop)
                {
                    Save(invocation, crop, Numbers(fit, path, invocation.Parse.GetValue(counted)), invocation.Parse.GetValue(poisonous));
                }

                invocation.Answer(FitAnswer.Of(fit, name), Cautions(invocation, name), screen => Show(screen, fit, name));
            });
    }

    private static IReadOnlyList<ShownCaution> Cautions(Invocation invocation, CropId? kept) => kept is { } crop
        ? [.. PoisonCaution.Of(CropFile.Catalog(invocation.Data, invocation.Store).Require(crop.Text)).Select(ShownCaution.Whole)]
        : [];

    private static TrialFit Fit(string path)
    {
        var counts = TrialFile.Read(path);
        try
        {
            return TrialFit.Of(counts);
        }
        catch (FormatException problem)
        {
            throw new BadInputException($"{path}: {problem.Message}", problem);
        }
    }

    private static void Save(Invocation invocation, CropId crop, CropNumbers fitted, string? poisonous)
    {
        // What somebody answered stays when the trials are fitted again.
        var numbers = fitted with { Poisonous = poisonous?.Trim() ?? OwnCrops.Kept(invocation.Home, crop).Poisonous };

        // Refused here rather than by every command after it.
        _ = invocation.Catalog.With([numbers.ToChange(crop)]);
        invocation.Ledger.Crops.Save(crop, CropFile.Write(numbers));
    }

    /// <summary>What a forecast works with.</summary>
    private static CropNumbers Numbers(TrialFit fit, string path, EmergenceEvent? counted)
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
            HalfWarmHours = Math.Round(fit.Half.CelsiusHours, 1),
            Spread = Math.Round(Math.Clamp(fit.SpreadUsed, 0.01, 2), 4),
            HalfDeviation = Math.Round(Math.Min(2, Math.Sqrt(0.15 * 0.15 + doubt * doubt)), 3),
            BestShare = Math.Round(fit.ShareUsed, 4),
            Event = counted,
            Source = Source(fit, path),
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

    private static Temperature Rounded(Temperature temperature) => Temperature.FromCelsius(Math.Round(temperature.Celsius, 2));

    private static string Source(TrialFit fit, string path)
    {
        var seeds = fit.Tallies.Sum(tally => tally.Seeds);
        var assumed = fit.Doubts.Count == 0 ? ""
            : $" Assumed, because the trials cannot tell: {string.Join(", ", fit.Doubts.Select(doubt => FitAnswer.Name(doubt.What)))}.";
        return string.Create(CultureInfo.InvariantCulture,
            $"Fitted to {Path.GetFileName(path)}: {seeds} seeds at {fit.Tallies.Count} temperatures, by maximum likelihood.{assumed}");
    }

    private static void Show(Screen screen, TrialFit fit, CropId? saved)
    {
        var tallies = fit.Tallies;
        screen.Headline(fit.Doubts.Count == 0
            ? $"These trials tell the whole profile: {tallies.Sum(tally => tally.Seeds)} seeds at {tallies.Count} temperatures."
            : $"These trials tell a part of the profile: {tallies.Sum(tally => tally.Seeds)} seeds at {tallies.Count} "
                + $"{(tallies.Count == 1 ? "temperature" : "temperatures")}.");
        screen.Say();
        screen.Facts(
        [
            ("No progress below", Degrees(screen, fit.Base)),
            ("Fastest from", Degrees(screen, fit.OptimumLow)),
            ("Fastest to", Degrees(screen, fit.OptimumHigh)),
            ("No progress above", Degrees(screen, fit.Ceiling)),
            ("Half up after", Text(fit.HalfWarmHours, value => $"{PlainText.Number(value, 0)} °C·h")),
            ("Spread", Text(fit.Spread, value => PlainText.Number(value, 3))),
            ("Can come up", Text(fit.GerminableShare, RangeText.Percent)),
        ]);
        screen.Say();
        screen.Table([">At", ">Half up by itself", ">By the law", ">By the law without it", ">By a smooth curve", ">Spread", ">Share"],
            fit.Curves.Select(curve => Row(screen, curve)));
        foreach (var sentence in GoodnessWords.Of(fit))
        {
            screen.Say(sentence);
        }

        foreach (var doubt in fit.Doubts)
        {
            screen.Say();
            screen.Warn($"{PlainText.Capital(FitAnswer.Name(doubt.What))} cannot be known from these temperatures: {doubt.Why}");
        }

        if (fit.ShareDifference is { } difference)
        {
            screen.Say();
            screen.Warn(Sentence(difference, screen.Show));
        }

        screen.Say();
        if (saved is { } crop)
        {
            screen.Say($"Beyond {screen.Show(fit.Tried.Low)} to {screen.Show(fit.Tried.High)} nothing came up in a trial: forecasts there "
                + $"are guesses, and wide.");
            screen.Say($"Kept as {crop}{(fit.Doubts.Count > 0 ? ", with assumptions where the trials cannot tell" : "")}. Try it: chamber "
                + $"forecast --crop {crop} --at 22C");
        }

        screen.Aside("Maximum likelihood over all temperatures at once; 95 % intervals by profile likelihood; counts taken as intervals, "
            + "never as exact times.");
    }

    private static string[] Row(Screen screen, TrialCurve curve)
    {
        return
        [
            screen.Show(curve.Temperature),
            Days(curve.HalfDays),
            Days(curve.LawHalfDays),
            Days(curve.WithoutHalfDays),
            Days(curve.SmoothHalfDays),
            curve.Spread is { } spread ? PlainText.Number(spread, 2) : "-",
            RangeText.Percent(curve.Share),
        ];

        static string Days(double? days) => days is { } known ? $"{PlainText.Number(known)} d" : "-";
    }

    /// <summary>What differing shares mean, and what to do.</summary>
    internal static string Sentence(TrialShareDifference difference, Func<Temperature, string> show)
    {
        var shares = string.Join(", ", difference.Shares.Select(each => $"{RangeText.Percent(each.Share)} at {show(each.Temperature)}"));
        var chance = difference.Chance < 0.0001 ? "less than one in 10,000" : $"one in {PlainText.Number(1 / difference.Chance, 0)}";
        return $"The share that comes up differs by temperature: {shares}, late ones included. If all had one share, chance alone would "
            + $"make them differ so much {chance}. "
            + "The single share above fits none of them, and it may bend the warm-hours: with its own share for each temperature "
            + $"the base is {show(difference.Cardinals.Base)}, fastest from {show(difference.Cardinals.OptimumLow)} to "
            + $"{show(difference.Cardinals.OptimumHigh)}, ceiling {show(difference.Cardinals.Ceiling)}, half up after "
            + $"{PlainText.Number(difference.HalfWarmHours.CelsiusHours, 0)} °C·h, spread {PlainText.Number(difference.Spread, 3)}. "
            + "Fit the trials near your sowing temperature by themselves.";
    }

    private static string Degrees(Screen screen, TrialEstimate estimate) =>
        Text(estimate, value => screen.Show(Temperature.FromCelsius(value)));

    private static string Text(TrialEstimate estimate, Func<double, string> show) => (estimate.Low, estimate.Mid, estimate.High) switch
    {
        ({ } low, { } mid, { } high) => $"{show(mid)}, likely {show(low)} to {show(high)}",
        ({ } low, { } mid, null) => $"{show(mid)}, likely {show(low)} or more",
        (null, { } mid, { } high) => $"{show(mid)}, likely {show(high)} or less",
        (null, { } mid, null) => show(mid),
        ({ } low, null, { } high) => $"cannot be known; somewhere from {show(low)} to {show(high)}",
        ({ } low, null, null) => $"cannot be known; {show(low)} or more",
        (null, null, { } high) => $"cannot be known; {show(high)} or less",
        _ => "cannot be known",
    };
}

/// <summary>
/// A fit for programs, in the words of <c>crops --json</c>; temperatures in °C, half warm-hours in °C·h, the share 0 to 1, intervals of
/// 95 %. Those numbers whose middle these temperatures cannot tell stand in <c>cannotKnow</c> and have no mid; the words say why.
/// When the share that comes up differs by temperature, sharesDiffer holds the chance of that and the share at each; otherwise null.
/// The same for spreadChanges, with the spread at the coldest and the warmest trial.
/// </summary>
internal sealed record FitAnswer(
    TrialEstimate Base,
    TrialEstimate OptimumLow,
    TrialEstimate OptimumHigh,
    TrialEstimate Ceiling,
    TrialEstimate HalfWarmHours,
    TrialEstimate Spread,
    TrialEstimate GerminableShare,
    TrialShareDifference? SharesDiffer,
    TrialSpreadChange? SpreadChanges,
    IReadOnlyList<string> CannotKnow,
    IReadOnlyList<string> Words,
    double Level,
    int Seeds,
    IReadOnlyList<TrialTally> Temperatures,
    double LogLikelihood,
    TrialGoodness Goodness,
    IReadOnlyList<TrialCurve> Curves,
    CropId? Saved)
{
    public static FitAnswer Of(TrialFit fit, CropId? saved) => new(
        fit.Base,
        fit.OptimumLow,
        fit.OptimumHigh,
        fit.Ceiling,
        fit.HalfWarmHours,
        fit.Spread,
        fit.GerminableShare,
        fit.ShareDifference,
        fit.SpreadChange,
        [.. fit.Doubts.Select(doubt => doubt.What)],
        Sentences(fit),
        0.95,
        fit.Tallies.Sum(tally => tally.Seeds),
        fit.Tallies,
        fit.LogLikelihood,
        fit.Goodness,
        fit.Curves,
        saved);

    private static List<string> Sentences(TrialFit fit)
    {
        List<string> said =
            [.. fit.Doubts.Select(doubt => $"{PlainText.Capital(Name(doubt.What))} cannot be known from these temperatures: {doubt.Why}")];
        if (fit.ShareDifference is { } difference)
        {
            said.Add(FitVerb.Sentence(difference, temperature => $"{PlainText.Number(temperature.Celsius, 1)} °C"));
        }

        said.AddRange(GoodnessWords.Of(fit));

        return said;
    }

    /// <summary>The name of a number in a sentence.</summary>
    public static string Name(string what) => what switch
    {
        "optimumLow" => "the low end of the plateau",
        "optimumHigh" => "the high end of the plateau",
        "halfWarmHours" => "the half warm-hours",
        _ => "the " + what,
    };
}

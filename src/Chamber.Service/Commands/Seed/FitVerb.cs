using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Trials;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Import;

namespace Chamber.Service.Commands.Seed;

/// <summary>A crop's profile from somebody's own trials at steady temperatures.</summary>
internal static class FitVerb
{
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
                var fit = OwnTrials.Fit(TrialFile.Read(path), path);
                var name = invocation.Parse.GetValue(save);
                if (name is { } crop)
                {
                    OwnTrials.Save(invocation.Writing, crop, fit, Path.GetFileName(path), invocation.Parse.GetValue(counted),
                        invocation.Parse.GetValue(poisonous));
                }

                invocation.Answer(FitAnswer.Of(fit, name), Cautions(invocation, name), screen => Show(screen, fit, name));
            });
    }

    private static IReadOnlyList<ShownCaution> Cautions(Invocation invocation, CropId? kept) => kept is { } crop
        ? [.. PoisonCaution.Of(invocation.Home.Catalog.Require(crop.Text)).Select(ShownCaution.Whole)]
        : [];

    private static void Show(Screen screen, TrialFit fit, CropId? saved)
    {
        screen.Headline(FitWords.Headline(fit));
        screen.Say();
        screen.Facts([.. FitWords.Profile(fit, screen.Show)]);
        screen.Say();
        screen.Table([">At", ">Half up by itself", ">By the law", ">By the law without it", ">By a smooth curve", ">Spread", ">Share"],
            fit.Curves.Select(curve => Row(screen, curve)));
        foreach (var sentence in GoodnessWords.Of(fit))
        {
            screen.Say(sentence);
        }

        foreach (var doubt in FitWords.Doubts(fit, screen.Show))
        {
            screen.Say();
            screen.Warn(doubt);
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
}

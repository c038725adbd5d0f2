using System.CommandLine;
using System.Globalization;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Spots;

/// <summary>Which spot is best for a crop, which crop for a spot, or how all spots are now.</summary>
internal static class SpotsVerb
{
    private const int CropsShownMax = 15;

    public static Verb Create()
    {
        var crop = new Option<string?>("--crop") { HelpName = "CROP", Description = "Rank the spots for this crop, best first." };
        var spot = new Option<string?>("--spot") { HelpName = "SPOT", Description = "Rank the crops for this spot, best first." };
        var all = new Option<bool>("--all") { Description = "With --spot: every crop." };
        return new Verb("spots", "Shows which spot is best for a crop, which crops suit a spot, or how warm every spot is now.",
            "chamber spots --crop basil", "chamber spots --spot boiler-top", "chamber spots") { crop, spot, all }
            .LooksBack()
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                switch (parse.GetValue(crop), parse.GetValue(spot))
                {
                    case ({ } name, null):
                        ForCrop(invocation, invocation.Catalog.Require(name));
                        break;
                    case (null, { } name):
                        ForSpot(invocation, invocation.Home.RequireSpot(name), parse.GetValue(all));
                        break;
                    case (null, null):
                        Now(invocation);
                        break;
                    default:
                        throw new BadInputException("Give only one of --crop and --spot.");
                }
            });
    }

    private static void ForCrop(Invocation invocation, Crop crop)
    {
        var home = invocation.Home;
        var ranked = HomeRankings.ForCrop(home, crop, home.Surveys(home.Now));
        invocation.Answer(ranked.Select(RankingAnswer.Of), screen =>
        {
            if (ranked.Count == 0)
            {
                NoSpot(screen);
                return;
            }

            var best = ranked[0];
            screen.Headline(best.Suitability is { Confidence: > 0, Score: > 0 }
                ? $"Best for {crop.CommonName}: {best.Spot.Id}. {best.Because(screen.Show)}"
                : $"No spot can be recommended for {crop.CommonName} yet.");
            screen.Say();
            Rank(screen, "Spot", ranked, line => line.Spot.Id.Text);
            screen.Aside(KnowledgeWords.Of(home.AtNow.Forecasts.Here(new(crop, 1))));
            foreach (var warning in HomeWarnings.OfCrop(crop))
            {
                screen.Warn(warning);
            }

            screen.Warn([CautionRules.Repeated(best.Spot.Kind)]);
        });
    }

    private static void ForSpot(Invocation invocation, Spot spot, bool all)
    {
        var home = invocation.Home;
        var ranked = HomeRankings.ForSpot(home, new(spot, home.Survey(spot.Id, home.Now)), sownInPlace: all,
            all || invocation.Json ? int.MaxValue : CropsShownMax);
        invocation.Answer(ranked.Select(RankingAnswer.Of), screen =>
        {
            var known = ranked[0].Suitability.Confidence > 0;
            screen.Headline(known ? $"{spot.Id} suits {ranked[0].Crop.CommonName} best. {ranked[0].Because(screen.Show)}"
                : $"{spot.Id} has not been measured for long enough to say what suits it.");
            if (SpotMoisture.Words(home, spot.Id, invocation.Now) is { } moisture)
            {
                screen.Say(moisture);
            }

            if (!known)
            {
                screen.Say($"Put a probe there: chamber probe move PROBE {spot.Id}   or read a thermometer: chamber read {spot.Id} 22.5C");
                screen.Warn([CautionRules.Repeated(spot.Kind)]);
                return;
            }

            screen.Say();
            Rank(screen, "Crop", all ? ranked : ranked.Take(CropsShownMax), line => line.Crop.Id.Text);
            if (!all)
            {
                screen.Aside($"The best {CropsShownMax} of {ranked.Count}; every crop: chamber spots --spot {spot.Id} --all");
            }

            screen.Warn([CautionRules.Repeated(spot.Kind)]);
        });
    }

    private static void Rank(Screen screen, string what, IEnumerable<RankedSpot> ranked, Func<RankedSpot, string> name) => screen.Table(
        [what, ">Suits", ">Likely", ">How sure", ">Half up", "Because"],
        ranked.Select(line => (string[])
        [
            name(line),
            .. line.Suitability.Confidence > 0 ? Rated(line) : ["-", "-", "-", "-"],
            line.Because(screen.Show),
        ]));

    private static string[] Rated(RankedSpot line) =>
    [
        Whole(line.Suitability.Score),
        $"{Whole(line.Suitability.Low)} to {Whole(line.Suitability.High)}",
        $"{Whole(line.Suitability.Confidence)} %",
        line.DaysToHalf is { } days ? $"{RangeText.Day(days)} days" : "never",
    ];

    private static void Now(Invocation invocation)
    {
        var home = invocation.Home;
        var answers = home.Surveys(invocation.Now).Select(spot => SpotNowAnswer.Of(home, spot)).ToList();
        invocation.Answer(answers, screen =>
        {
            if (answers.Count == 0)
            {
                NoSpot(screen);
                return;
            }

            screen.Table(
                ["Spot", "Kind", "Light", $">Now {screen.Scale.Unit()}", $">Usual {screen.Scale.Unit()}", ">Surveyed", "Probes",
                    "Stands there"],
                answers.Select(spot => new[]
                {
                    spot.Spot.Text,
                    Choice.Words(spot.Kind),
                    Choice.Word(spot.Light),
                    spot.Temperature is { } now ? screen.Scale.Number(now) : "-",
                    spot.Coolest is { } low && spot.Warmest is { } high
                        ? $"{screen.Scale.Number(low)} to {screen.Scale.Number(high)}" : "-",
                    spot.MeasuredHours > 0 ? $"{PlainText.Number(spot.MeasuredHours / 24)} days" : "no",
                    string.Join(", ", spot.Probes.Select(probe => probe.Text)),
                    string.Join(", ", spot.Batches.Select(batch => batch.Text)),
                }));
            screen.Say();
            screen.Aside("Which is best for a crop: chamber spots --crop tomato");
        });
    }

    private static void NoSpot(Screen screen)
    {
        screen.Headline("There is no spot yet.");
        screen.Say("Add one: chamber spot add boiler-top --kind boiler-cupboard --light dark");
    }

    private static string Whole(double value) => value.ToString("0", CultureInfo.InvariantCulture);
}

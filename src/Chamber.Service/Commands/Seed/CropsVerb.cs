using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Needs;
using Chamber.Core.Seeds;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Seed;

/// <summary>The crop catalog, or one crop with its numbers and where they come from.</summary>
internal static class CropsVerb
{
    public static Verb Create()
    {
        var name = new Argument<string?>("crop") { Arity = ArgumentArity.ZeroOrOne,
            Description = "One crop, by any of its names. Default: all of them." };
        var sources = new Option<bool>("--sources") { Description = "With a crop: where each number comes from." };
        return new Verb("crops", "Shows what each crop wants, or everything about one crop, with sources.", "chamber crops",
            "chamber crops tomato", "chamber crops tomato --sources", "chamber crops \"sweet pepper\" --json") { name, sources }
            .LooksBack()
            .Does(invocation =>
            {
                if (invocation.Parse.GetValue(name) is { } asked)
                {
                    var crop = invocation.Catalog.Require(asked);
                    invocation.Answer(CropAnswer.Of(crop), screen => ShowOne(screen, crop, invocation.Parse.GetValue(sources)));
                    return;
                }

                invocation.Answer(invocation.Catalog.Crops.Select(CropAnswer.Of), screen => ShowAll(screen, invocation.Catalog));
            });
    }

    private static void ShowAll(Screen screen, CropCatalog catalog)
    {
        screen.Table(
            ["Crop", $">Ideal {screen.Scale.Unit()}", $">Cool limit", $">Hot limit", ">Half up at best", "Light", "Numbers"],
            catalog.Crops.Select(crop => new[]
            {
                crop.Id.Text,
                $"{screen.Scale.Number(crop.IdealBand.Low)} to {screen.Scale.Number(crop.IdealBand.High)}",
                screen.Scale.Number(crop.CoolLimit),
                screen.Scale.Number(crop.HotLimit),
                $"{PlainText.Number(crop.Profile.FastestDays)} days",
                Light(crop.Light),
                Origin(crop.Profile.Origin),
            }));
        screen.Say();
        screen.Aside($"{catalog.Crops.Count} crops. Below the cool limit a crop takes twice as long as at best; above the hot limit fewer "
            + $"come up. One with its sources: chamber crops tomato");
    }

    private static void ShowOne(Screen screen, Crop crop, bool withSources)
    {
        var profile = crop.Profile;
        var cardinals = profile.Cardinals;
        screen.Headline($"{PlainText.Capital(crop.CommonName)} comes up best at {screen.Show(crop.IdealBand)}.");
        screen.Say($"Half are up after {PlainText.Number(profile.FastestDays)} days at best; {Event(profile.Event)}.");
        screen.Say();
        var rows = new List<(string, string)>
        {
            ("Ideal band", screen.Show(crop.IdealBand)),
            ("Cool limit", $"{screen.Show(crop.CoolLimit)}, below it takes at least twice as long"),
            ("Hot limit", $"{screen.Show(crop.HotLimit)}, above it fewer come up"),
            ("No progress", cardinals.Coldest.Celsius < 0 ? $"above {screen.Show(cardinals.Ceiling)}"
                : $"below {screen.Show(cardinals.Coldest)} and above {screen.Show(cardinals.Ceiling)}"),
            ("Base", cardinals.FootKelvins > 0 ? $"{screen.Show(cardinals.Base)}, where the cold end of the curve bends"
                : screen.Show(cardinals.Base)),
            ("Fastest", $"{screen.Scale.Number(cardinals.OptimumLow)} to {screen.Show(cardinals.OptimumHigh)}"),
            ("In heat", cardinals.Ceilings is { } ceilings
                ? $"half of its seeds make no progress above {screen.Show(ceilings.Median)}, the others less"
                : $"slower, and nothing above {screen.Show(cardinals.Ceiling)}"),
            ("Half up after", $"{profile.HalfWarmHours.CelsiusHours:0} °C·h of warm-hours, spread {PlainText.Number(profile.Spread, 2)}"),
            ("Light", Light(crop.Light)),
        };
        if (cardinals.Tried is not null && profile.Tried is { } tried)
        {
            rows.Insert(rows.Count - 1, ("As tried", $"from {screen.Show(tried.Low)} to {screen.Show(tried.High)} days go by a smooth "
                + "curve through the trials, and not by these numbers"));
        }

        rows.AddRange(NeedState.Of(crop, new() { Scale = screen.Scale })
            .Where(state => state.Need.Kind is not (NeedKind.Light or NeedKind.Darkness))
            .Select(state => ("Also", state.Words)));
        rows.AddRange(Sowing(crop));
        rows.Add(("Seed keeps", SeedKeeps(crop)));

        rows.Add(("How sure", Origin(profile.Origin)));
        screen.Facts(rows);
        screen.Warn(PoisonCaution.Of(crop).Select(ShownCaution.Whole));
        ShowDays(screen, crop);
        if (!withSources)
        {
            screen.Aside($"Where each number comes from{(crop.Conflict is null ? "" : ", and where sources disagree")}: "
                + $"chamber crops {crop.Id} --sources");
            return;
        }

        screen.Say();
        if (crop.Conflict is { } conflict)
        {
            screen.Warn($"Sources disagree: {conflict}");
            screen.Say();
        }

        foreach (var source in crop.Sources.Concat(crop.Needs.Where(need => need.Days is not null || need.Band is not null)
            .Select(need => $"{Words(need.Kind)}: {need.Source}.")))
        {
            screen.Aside(source);
        }
    }

    private static IEnumerable<(string Name, string Words)> Sowing(Crop crop)
    {
        if (crop.Guide is not { } guide)
        {
            yield break;
        }

        yield return ("Depth", guide.DepthMillimetres == 0 ? "pressed on, not covered" : $"{PlainText.Number(guide.DepthMillimetres)} mm");
        if (RootAndShoot.DegreeDaysOfMillimetre(crop) is { } slow)
        {
            yield return ("Root and shoot", $"the root is seen after about {RangeText.Percent(RootAndShoot.RootShare(crop))} of these warm-hours; "
                + $"each mm deeper adds {PlainText.Number(slow)} °C·d");
        }

        if (SowingAdvice.Pretreatment(crop) is { } before)
        {
            yield return ("Before sowing", before);
        }

        if (guide.Transplants.Length > 0)
        {
            yield return ("Being moved", guide.Transplants == "no" ? "no: sow it where it will grow" : guide.Transplants);
        }

        yield return ("In a towel", guide.TowelNote.Length > 0 ? $"{guide.Towel}: {guide.TowelNote}".ToLowerInvariant()
            : guide.Towel.ToString().ToLowerInvariant());
    }

    private static void ShowDays(Screen screen, Crop crop)
    {
        screen.Say();
        screen.Table(["At", ">Half up", ">Come up"], DaysAt.Of(crop).Select(at => new[]
        {
            screen.Show(at.Temperature),
            at.DaysToHalf is { } days ? $"{RangeText.Day(days)} days" : "never",
            at.DaysToHalf is null ? "-" : RangeText.Percent(at.Share),
        }));
    }

    private static string Event(EmergenceEvent what) =>
        what == EmergenceEvent.RootSeen ? "up means that the root is seen" : "up means that the shoot is seen";

    private static string Words(NeedKind kind) => PlainText.Capital(Choice.Words(kind));

    private static string SeedKeeps(Crop crop)
    {
        var sellers = crop.Guide?.LifeYears is { } years ? $"; sellers' tables say {years} {(years == 1 ? "year" : "years")}" : "";
        return $"half of it about {PlainText.Number(SeedLongevity.Of(crop).HalfYears)} years in a dry room{sellers}";
    }

    private static string Light(LightNeed need) => need switch
    {
        LightNeed.NeedsLight => "needs light",
        LightNeed.NeedsDark => "needs dark",
        _ => "no matter",
    };

    private static string Origin(ProfileOrigin origin) => origin switch
    {
        ProfileOrigin.Fitted => "fitted to measured days",
        ProfileOrigin.Borrowed => "borrowed from a relative",
        ProfileOrigin.Derived => "derived from usual days",
        _ => "your own",
    };
}

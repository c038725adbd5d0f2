using System.Globalization;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands;

/// <summary>Every lot of seed, first the one to use first.</summary>
internal static class LotsVerb
{
    public static Verb Create()
    {
        return new Verb("lots", "Your seed: what is left, what it is good for, and what to use first.", "chamber lots", "chamber lots --json")
            .Does(invocation =>
            {
                var lots = new HomeSeeds(invocation.Home, invocation.Now).All();
                invocation.Answer(lots.Select(LotAnswer.Of), screen => Show(screen, lots));
            });
    }

    private static void Show(Screen screen, IReadOnlyList<LotState> lots)
    {
        if (lots.Count == 0)
        {
            screen.Headline("No seed is written down yet.");
            screen.Say("Add a lot: chamber lot add tomato-24 --crop tomato --seeds 50 --year 2024");
            return;
        }

        screen.Table(["Lot", "Crop", ">Left", ">Years to half", ">Comes up", "What to do"], lots.Select(Row));
        screen.Aside("Comes up: 80 % interval from age, storage, tests and batches. Years to half: until fewer than half of such a lot come up where it is kept (docs/arithmetic.md). A test is the truth.");
    }

    private static string[] Row(LotState lot)
    {
        var interval = lot.Belief.Share.Interval();
        return
        [
            lot.Lot.Id.Text,
            lot.Lot.Variety is { } variety ? $"{lot.Crop.CommonName} {variety}" : lot.Crop.CommonName,
            lot.Left.ToString(CultureInfo.InvariantCulture),
            lot.Belief.YearsLeft switch { null => "?", < 0 => "past it", { } years => PlainText.Number(years) },
            string.Create(CultureInfo.InvariantCulture, $"{interval.Low * 100:0} to {interval.High * 100:0} %"),
            LotWords.Advice(lot),
        ];
    }
}

/// <summary>A lot on the screen.</summary>
internal static class LotScreen
{
    /// <summary>What is believed and why, for one lot.</summary>
    public static void Show(Screen screen, LotState lot)
    {
        var interval = lot.Belief.Share.Interval();
        screen.Headline($"{lot.Lot.Id}: {RangeText.Percent(interval.Low, interval.Mid, interval.High)} come up; {lot.Left} left; {LotWords.Advice(lot)}.");
        screen.Say(lot.Belief.Age is { } age
            ? string.Create(CultureInfo.InvariantCulture, $"From its age ({age.Years:0.#} years) and where it is kept, {lot.Belief.FromAge * 100:0} % would be expected.")
            : string.Create(CultureInfo.InvariantCulture, $"Nobody knows its age; {lot.Belief.FromAge * 100:0} % is a guess from the crop alone."));
        screen.Aside(LotWords.Life(lot));
        if (lot.Crop.Guide?.LegalMinimum is { } minimum)
        {
            screen.Say($"Seed on sale must reach {RangeText.Percent(minimum)} ({Rule(lot.Crop.Guide.LegalRule)}); this lot does {lot.Belief.ChanceOfMeeting(minimum) * 100:0} times in 100.");
        }

        ShowWarnings(screen, lot);
    }

    private static string Rule(LegalRule? rule) =>
        rule is LegalRule.NewHampshire ? "one US state's rule, New Hampshire Agr 2203.01" : "US rules, 7 CFR 201.31; 2015 edition";

    private static void ShowWarnings(Screen screen, LotState lot)
    {
        foreach (var left in lot.Belief.LeftOut)
        {
            screen.Say($"Left out: {left.From}, {left.Count.Up} of {left.Count.Seeds}, since the conditions were not fair.");
        }

        foreach (var remark in LotRemarks.For(lot.Lot, lot.Crop))
        {
            screen.Say(remark);
        }

        screen.Warn(CautionRules.Of(lot.Lot, lot.Crop));
    }
}

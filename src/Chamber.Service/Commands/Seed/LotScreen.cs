using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Seed;

/// <summary>A lot on the screen.</summary>
internal static class LotScreen
{
    /// <summary>What is believed and why, for one lot.</summary>
    public static void Show(Screen screen, LotState lot)
    {
        var interval = lot.Belief.Share.Interval();
        screen.Headline($"{lot.Lot.Id}: {RangeText.Percent(interval.Low, interval.Mid, interval.High)} come up; {lot.SeedsLeft} left; "
            + $"{LotWords.Advice(lot)}.");
        screen.Facts(LotWords.WrittenDown(lot.Lot));
        screen.Say(LotWords.FromAge(lot));
        screen.Aside(LotWords.Life(lot));
        if (lot.Crop.Guide?.LegalMinimum is { } minimum)
        {
            screen.Say($"Seed on sale must reach {RangeText.Percent(minimum)} ({Rule(lot.Crop.Guide.LegalRule)}); the chance for this "
                + $"lot is {lot.Belief.ChanceOfMeeting(minimum) * 100:0} %.");
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

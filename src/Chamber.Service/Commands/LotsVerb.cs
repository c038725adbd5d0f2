using System.Globalization;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;
using Chamber.Service.Home;

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

/// <summary>Lots in words.</summary>
internal static class LotWords
{
    public static string Advice(LotState lot) => lot.Advice switch
    {
        LotAdvice.UseFirst => "use first",
        LotAdvice.TestFirst => "test some first",
        LotAdvice.Replace => "replace",
        LotAdvice.Empty => "none left",
        _ => "keep",
    };

    /// <summary>What is believed and why, for one lot.</summary>
    public static void Show(Screen screen, LotState lot)
    {
        var interval = lot.Belief.Share.Interval();
        screen.Headline($"{lot.Lot.Id}: {RangeText.Percent(interval.Low, interval.Mid, interval.High)} come up; {lot.Left} left; {Advice(lot)}.");
        screen.Say(lot.Belief.Age is { } age
            ? string.Create(CultureInfo.InvariantCulture, $"From its age ({age.Years:0.#} years) and where it is kept, {lot.Belief.FromAge * 100:0} % would be expected.")
            : string.Create(CultureInfo.InvariantCulture, $"Nobody knows its age; {lot.Belief.FromAge * 100:0} % is a guess from the crop alone."));
        screen.Aside(Life(lot));
        if (lot.Crop.Guide?.LegalMinimum is { } minimum)
        {
            screen.Say($"Seed on sale must reach {RangeText.Percent(minimum)} ({Rule(lot.Crop.Guide.LegalRule)}); this lot does {lot.Belief.ChanceOfMeeting(minimum) * 100:0} times in 100.");
        }

        ShowWarnings(screen, lot);
    }

    private static string Rule(LegalRule? rule) =>
        rule is LegalRule.NewHampshire ? "one US state's rule, New Hampshire Agr 2203.01" : "US rules, 7 CFR 201.31; 2015 edition";

    /// <summary>What its kind was measured to last, and beside it what sellers' tables give it.</summary>
    public static string Life(LotState lot)
    {
        var longevity = SeedLongevity.Of(lot.Crop);
        var basis = longevity.Basis switch
        {
            LongevityBasis.Measured => "measured",
            LongevityBasis.Scaled => "scaled from measurements",
            _ => "an assumption from its kind",
        };
        var sellers = lot.Crop.Guide?.LifeYears is { } years ? $" Sellers' tables say {years} {(years == 1 ? "year" : "years")}; no number here rests on that." : "";
        return string.Create(CultureInfo.InvariantCulture, $"Half of a usual lot of {lot.Crop.CommonName} lasts {longevity.HalfYears:0.#} years at 20 °C and 50 % ({basis}).{sellers}");
    }

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

/// <summary>A lot for programs.</summary>
internal sealed record LotAnswer(
    LotId Lot,
    Core.Crops.CropId Crop,
    string? Variety,
    SeedOrigin Origin,
    int? Year,
    LotYearKind YearKind,
    int Left,
    StoragePlace Storage,
    bool Treated,
    LotId? Parent,
    ShareInterval Germination,
    double FromAge,
    double? AgeYears,
    double? YearsLeft,
    LotAdvice Advice,
    IReadOnlyList<TestAnswer> Tests,
    IReadOnlyList<string> Cautions)
{
    public static LotAnswer Of(LotState state) => new(
        state.Lot.Id,
        state.Lot.Crop,
        state.Lot.Variety,
        state.Lot.Origin,
        state.Lot.Year,
        state.Lot.YearKind,
        state.Left,
        state.Lot.Storage,
        state.Lot.Treated,
        state.Lot.Parent,
        state.Belief.Share.Interval(),
        state.Belief.FromAge,
        state.Belief.Age?.Years,
        state.Belief.YearsLeft,
        state.Advice,
        [.. state.Tests.Select(TestAnswer.Of)],
        [.. CautionRules.Of(state.Lot, state.Crop).Select(shown => shown.Caution.Full), .. LotRemarks.For(state.Lot, state.Crop)]);
}

/// <summary>A test for programs.</summary>
internal sealed record TestAnswer(NodaTime.Instant StartedAt, NodaTime.Instant? CalledAt, int Seeds, int Good, bool Fair, ShareInterval Share)
{
    public static TestAnswer Of(LotTest test) =>
        new(test.StartedAt, test.CalledAt, test.Seeds, test.Good, test.Fair, HomeTest.Result(new(test.Good, test.Seeds)));
}

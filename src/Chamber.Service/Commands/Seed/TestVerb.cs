using System.CommandLine;
using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Statistics;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Seed;

/// <summary>A germination test at home: plan it, start it, call it, or record one that somebody did.</summary>
internal static class TestVerb
{
    public static Command Create() =>
        new("test", "Tests germination at home: plan, start, call, record.") { PlanVerb(), StartVerb(), CallVerb(), RecordVerb() };

    private static Verb PlanVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        var question = Question();
        return new Verb("plan", "Plans a germination test: how many seeds to lay out, how, and when to count them.",
            "chamber test plan tomato-24",
            "chamber test plan tomato-24 --for worth-growing-from") { lot, question }
            .Does(invocation =>
            {
                var state = invocation.Home.At(invocation.Now).Seeds.Require(invocation.Parse.GetValue(lot)!);
                var test = HomeTest.Plan(state.Crop, invocation.Parse.GetValue(question) ?? TestQuestion.Rate, state.SeedsLeft,
                    state.Lot.Treated);
                invocation.Answer(new { Lot = state.Lot.Id, test.Seeds, test.Within, test.Temperatures, test.FirstCountDay,
                    test.FinalCountDay, test.Advice }, screen => ShowPlan(screen, state, test));
            });
    }

    private static Verb StartVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        var spot = new Option<string>("--spot") { Required = true, HelpName = "SPOT", Description = "Where the towel lies." };
        var seeds = Typed.Option<int?>("--seeds", "N", "How many seeds. Default: as test plan says.",
            text => ShareText.Count(text, Core.Bounds.SeedsCounted));
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was wetted. Default: now." };
        return new Verb("start", "Starts a germination test on a towel; look at it like any batch.",
            "chamber test start tomato-24 --spot shelf") { lot, spot, seeds, when }
            .Does(invocation =>
            {
                var started = invocation.Lots.StartTest(invocation.Parse.GetValue(lot)!,
                    new(invocation.Parse.GetValue(spot)!, invocation.Parse.GetValue(seeds), invocation.Parse.GetValue(when)));
                Started(invocation, started, invocation.Home.RequireSpot(invocation.Parse.GetValue(spot)!));
            });
    }

    private static void Started(Invocation invocation, TestStarted test, Spot spot)
    {
        var state = invocation.Home.At(invocation.Now).Seeds.Require(test.Lot.Text);
        var cautions = HomeCautions.OfSowing(invocation.Home, invocation.Home.RequireBatch(test.Batch.Text));
        invocation.Answer(new { test.Batch, test.Lot, test.Seeds, test.CallOn }, test.Warnings, cautions, screen =>
        {
            screen.Headline($"{test.Batch}: {CountText.Of(test.Seeds, "seed")} of {test.Lot} under test on {spot.Id}; count on "
                + $"{TimeText.ShowDay(test.CallOn, invocation.Now.InZone(invocation.Zone).Date)}.");
            foreach (var line in test.Advice)
            {
                screen.Say(line);
            }

            if (state.Crop.Light == LightNeed.NeedsLight && spot.Light == LightLevel.Dark)
            {
                screen.Warn($"{state.Crop.CommonName} needs light to come up and {spot.Id} is dark: this would not be a fair test.");
            }
        });
    }

    private static Verb CallVerb()
    {
        var batch = Typed.Argument("batch", "The batch of the test.", text => new BatchId(text));
        var good = Typed.Option<int?>("--good", "N",
            "How many grew a healthy root and shoot. Default: the count of the last look.", text =>
            int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number
            : throw new FormatException($"\"{text}\" is not a count."));
        return new Verb("call", "Ends a germination test: records its result and says what it proves.",
            "chamber test call T7 --good 16") { batch, good }
            .Does(invocation =>
            {
                var called = invocation.Lots.CallTest(invocation.Parse.GetValue(batch).Text, new(invocation.Parse.GetValue(good)));
                Report(invocation, called);
            });
    }

    private static Verb RecordVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        var count = Typed.Argument("count", "How many were good, of how many: 16/20.", SeedCount.Parse);
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was counted. Default: now." };
        var unfair = new Option<bool>("--unfair") { Description = "It was too hot or too cold to be a fair test." };
        return new Verb("record", "Records a germination test done without Chamber.", "chamber test record tomato-24 16/20") { lot,
            count, when, unfair }
            .Does(invocation =>
            {
                var result = invocation.Parse.GetValue(count);
                Report(invocation, invocation.Lots.RecordTest(invocation.Parse.GetValue(lot)!,
                    new(result.Up, result.Seeds, invocation.Parse.GetValue(unfair), invocation.Parse.GetValue(when))));
            });
    }

    private static void Report(Invocation invocation, TestResult result)
    {
        var (lot, fair, count) = (result.Lot, result.Fair, new SeedCount(result.Good, result.Seeds));
        var state = invocation.Home.At(invocation.Now).Seeds.Require(lot.Text);
        var share = HomeTest.Result(count);
        invocation.Answer(
            new { Lot = lot, count.Up, count.Seeds, Share = share, Fairness = fair?.Verdict, Because = fair?.Because,
                Germination = state.Belief.Share.Interval() },
            result.Warnings, [],
            screen =>
            {
                screen.Headline(
                    string.Create(CultureInfo.InvariantCulture,
                    $"{count.Up} of {count.Seeds}: the true share lies between {share.Low * 100:0} and {share.High * 100:0} %, "
                    + $"19 times in 20."));
                if (fair is not null)
                {
                    screen.Say(fair.Because);
                }

                LotScreen.Show(screen, state);
            });
    }

    private static void ShowPlan(Screen screen, LotState state, HomeTest test)
    {
        screen.Headline($"Test {CountText.Of(test.Seeds, "seed")} of {state.Lot.Id}; count on day {test.FinalCountDay}.");
        screen.Say(string.Create(CultureInfo.InvariantCulture,
            $"If eight in ten come up, that tells the true share to within {test.Within * 100:0} points; "
            + $"{SampleSize.ToKnowWithin(0.8, 0.1)} seeds would tell it to within 10."));
        if (test.Temperatures is { } temperatures)
        {
            screen.Say($"Laboratories test it at {LabTemperatures(temperatures, screen.Scale)} in the "
                + $"paper{(temperatures.Contains('-', StringComparison.Ordinal) ? " (16 h at the lower, 8 h at the higher)" : string.Empty)}, first count on day {test.FirstCountDay?.ToString(CultureInfo.InvariantCulture) ?? "-"} (7 CFR 201.58).");
        }

        foreach (var line in test.Advice)
        {
            screen.Say(line);
        }
    }

    // "20-30; 25": an alternation, or another steady choice.
    private static string LabTemperatures(string celsius, TemperatureScale scale) =>
        Regex.Replace(celsius, @"\d+", number =>
            scale.Number(Temperature.FromCelsius(double.Parse(number.Value, CultureInfo.InvariantCulture))))
            + $" {scale.Unit()}";

    private static Option<TestQuestion?> Question() =>
        Typed.Option<TestQuestion?>("--for", "QUESTION", "alive-or-dead, rate (default) or worth-growing-from.",
            text => Choice.Parse<TestQuestion>(text));
}

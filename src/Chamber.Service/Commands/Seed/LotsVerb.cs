using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Seed;

/// <summary>Every lot of seed, first the one to use first.</summary>
internal static class LotsVerb
{
    public static Verb Create()
    {
        return new Verb("lots", "Lists your seed: how much is left, how good it is, and what to use first.", "chamber lots",
            "chamber lots --json")
            .LooksBack()
            .Does(invocation =>
            {
                var seeds = invocation.Home.At(invocation.Now).Seeds;
                var lots = seeds.All();
                invocation.Answer(lots.Select(LotAnswer.Of), screen => Show(screen, lots, seeds.WithoutCrop()));
            });
    }

    private static void Show(Screen screen, IReadOnlyList<LotState> lots, IReadOnlyList<string> withoutCrop)
    {
        foreach (var line in withoutCrop)
        {
            screen.Warn(line);
        }

        if (lots.Count == 0 && withoutCrop.Count > 0)
        {
            return;
        }

        if (lots.Count == 0)
        {
            screen.Headline("No seed is recorded yet.");
            screen.Say("Add a lot: chamber lot add tomato-24 --crop tomato --seeds 50 --year 2024");
            return;
        }

        screen.Table(["Lot", "Crop", ">Left", ">Years to half", ">Comes up", "What to do"], lots.Select(Row));
        screen.Aside("Comes up: right about 4 times in 5, from age, storage, tests and batches. Years to half: until fewer than half of "
            + "such a lot come up where it is kept (docs/arithmetic.md). Only a test tells the truth.");
    }

    private static string[] Row(LotState lot)
    {
        var interval = lot.Belief.Share.Interval();
        return
        [
            lot.Lot.Id.Text,
            lot.Lot.Variety is { } variety ? $"{lot.Crop.CommonName} {variety}" : lot.Crop.CommonName,
            lot.SeedsLeft.ToString(CultureInfo.InvariantCulture),
            lot.Belief.YearsLeft switch { null => "?", < 0 => "past it", { } years => PlainText.Number(years) },
            string.Create(CultureInfo.InvariantCulture, $"{interval.Low * 100:0} to {interval.High * 100:0} %"),
            LotWords.Advice(lot),
        ];
    }
}

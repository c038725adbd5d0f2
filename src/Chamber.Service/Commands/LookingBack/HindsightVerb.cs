using Chamber.Service.Commands.Sowing;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Predicted against actual over all batches.</summary>
internal static class HindsightVerb
{
    public static Verb Create() =>
        new Verb("hindsight", "Shows how well forecasts did: what was predicted at sowing against what was seen, for every batch.",
            "chamber hindsight", "chamber hindsight --json")
            .LooksBack()
            .Does(invocation =>
            {
                var batches = invocation.Home.At(invocation.Now).Hindsight.All();
                var answer = HindsightAnswer.Of(batches);
                invocation.Answer(answer, screen =>
                {
                    screen.Headline(HindsightWords.Headline(batches));
                    if (batches.Count == 0)
                    {
                        return;
                    }

                    screen.Say();
                    screen.Table(["Batch", "Crop", "Sown", "Half up, predicted", "seen", ">Off by"],
                        batches.Select(batch => HindsightWords.Row(batch, BatchWords.Day(invocation, batch.Batch.SownAt))));
                    screen.Say();
                    screen.Table(["", ">Batches", ">Too late by", ">Spread", ">Off by, middle", ">In the days forecast"],
                        answer.Scores.Select(HindsightWords.Row));
                    screen.Aside(
                        "Each forecast uses only what was known at sowing. Off by 0: the predicted day lies between the last look without "
                            + "and the first look with. Above 0: predicted too late. Forecasts are to be right 4 times in 5: at least "
                            + "half of the time between those looks lies in their days.");
                });
            });
}

using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Records a sowing and says when to look.</summary>
internal static class SowVerb
{
    public static Verb Create()
    {
        var crop = new Argument<string>("crop") { Description = "The crop, by any of its names." };
        var seeds = new Option<int>("--seeds") { Required = true, HelpName = "N", Description = "How many seeds." };
        var spot = new Option<string>("--spot") { Required = true, HelpName = "SPOT", Description = "Where it stands." };
        var method = Typed.Option<SowingMethod?>("--method", "METHOD", "covered-mix (default), open-mix or damp-towel.",
            text => Choice.Parse<SowingMethod>(text));
        var lot = Typed.Option<LotId?>("--lot", "LOT", "The lot the seed came from.", text => new LotId(text));
        var name = Typed.Option<BatchId?>("--name", "NAME", "A name for the stick. Default: the next free one, such as T3.",
            text => new BatchId(text));
        var depth = Typed.Option<double?>("--depth", "MM", "Millimetres of mix above the seed. Default: the crop's usual depth.",
            text => DepthText.Parse(text));
        var when = new Option<string?>("--when") { HelpName = "TIME",
            Description = "When it was wetted and put on its spot. Default: now." };
        return new Verb("sow", "Records a sowing and says when to look.", "chamber sow tomato --seeds 12 --spot boiler-top",
            "chamber sow basil --seeds 20 --spot shelf --method damp-towel --when yesterday") { crop, seeds, spot, method, lot, name,
                depth, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var batch = invocation.Batches.Sow(new(
                    parse.GetValue(crop)!,
                    parse.GetValue(seeds),
                    parse.GetValue(spot)!,
                    parse.GetValue(method),
                    parse.GetValue(lot),
                    parse.GetValue(name),
                    At: parse.GetValue(when),
                    Depth: parse.GetValue(depth)));
                Answer(invocation, batch, invocation.Catalog.Require(batch.Crop.Text), batch.Stays[0].Spot);
            });
    }

    private static void Answer(Invocation invocation, Batch batch, Crop crop, SpotId spot)
    {
        var outlook = invocation.Home.At(invocation.Now).Diagnoses.Of(batch);
        invocation.Answer(BatchAnswer.Of(outlook), HomeWarnings.OfSowing(invocation.Home, batch),
            HomeCautions.OfSowing(invocation.Home, batch), screen =>
        {
            screen.Headline($"{batch.Id}: {batch.Seeds} {crop.CommonName} on {spot}, {Choice.Words(batch.Method)}, sown "
                + $"{invocation.Show(batch.SownAt)}.");
            BatchWords.ShowForecast(screen, invocation, outlook);
            foreach (var advice in SowingAdvice.For(crop, batch.Method, HomeCautions.IsTreated(invocation.Home, batch.Lot)))
            {
                screen.Say(advice);
            }
        });
    }
}

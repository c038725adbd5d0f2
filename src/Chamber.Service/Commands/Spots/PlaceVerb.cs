using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Core.Spots.Placing;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Spots;

/// <summary>Which batch, or which crop to be sown, goes on which spot.</summary>
internal static class PlaceVerb
{
    public static Verb Create()
    {
        var crops = new Argument<string[]>("crop") { Arity = ArgumentArity.ZeroOrMore,
            Description = "Crops you are about to sow, each with its containers: tomato:2 basil. Batches not up yet are "
                + "arranged as well." };
        var insist = new Option<bool>("--indoors") { Description = "Offer spots also for crops that are sown directly outdoors." };
        var fresh = new Option<bool>("--new-only") { Description = "Leave your batches where they are." };
        return new Verb(
            "place",
            "Arranges batches on your spots so that all of them together lose the least.",
            "chamber place",
            "chamber place tomato:2 basil lettuce --new-only") { crops, fresh, insist }
            .LooksBack()
            .Does(invocation =>
            {
                var placing = HomePlacing.Solve(invocation.Home, invocation.Now, invocation.Parse.GetValue(crops) ?? [],
                    invocation.Parse.GetValue(fresh), invocation.Parse.GetValue(insist));
                invocation.Answer(PlacingAnswer.Of(invocation.Home, placing), screen =>
                    Show(screen, placing, HomePlacing.Cautions(invocation.Home, placing), HomePlacing.InTheWay(invocation.Home, placing)));
            });
    }

    private static void Show(Screen screen, IReadOnlyList<PlacedItem> placing, IReadOnlyList<(string Spots, ShownCaution Caution)> cautions,
        string? inTheWay)
    {
        foreach (var (names, caution) in cautions)
        {
            screen.Warn($"{names}: {CautionLines.Of(caution)}");
        }

        if (cautions.Count > 0)
        {
            screen.Say();
        }

        screen.Table(["What", "Goes on", "Why", "Next best"], placing.Select(HomePlacing.Row));
        if (inTheWay is not null)
        {
            screen.Say(inTheWay);
        }

        if (placing.Any(one => one.Cost is null
            && one.Item.Costs.Any(spot => spot.Why.EndsWith(HomePlacing.NotOffered, StringComparison.Ordinal))))
        {
            screen.Aside("To place it anyway, add --indoors.");
        }

        screen.Aside("Days lost: the delay compared with the fastest open spot, plus seed lost to the temperature, counted as the days "
            + "to start again.");
    }
}

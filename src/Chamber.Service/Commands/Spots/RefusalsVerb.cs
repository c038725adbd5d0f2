using System.CommandLine;
using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Spots;

/// <summary>What came in and was not used, whoever sent it; also what could not be traced to any probe.</summary>
internal static class RefusalsVerb
{
    private const int DefaultShown = 20;

    public static Verb Create()
    {
        var probe = Typed.Option<ProbeId?>("--probe", "PROBE", "Only this probe's.", text => new ProbeId(text));
        var last = new Option<int>("--last", "-n") { HelpName = "N", DefaultValueFactory = _ => DefaultShown,
            Description = "How many of the newest to show." };
        return new Verb("refusals", "Shows what came in and was not used: how often and why, the newest in full, and what to do.",
            "chamber refusals", "chamber refusals --probe kitchen-1 -n 50 --json") { probe, last }
            .Does(invocation =>
            {
                var count = BadInputException.In("last", () => Core.Bounds.RefusalsShown.Require(invocation.Parse.GetValue(last)));
                var answer = RefusalsAnswer.Of(invocation.Home.Records, invocation.Parse.GetValue(probe), count);
                invocation.Answer(answer, screen =>
                {
                    Show(screen, invocation, answer);
                    SayUnheard(screen, invocation.Settings);
                });
            });
    }

    /// <summary>Says that topics without a mapping are not heard, where somebody has set it so.</summary>
    public static void SayUnheard(Screen screen, Settings settings)
    {
        if (!settings.Broker.TraceUnmapped)
        {
            screen.Aside("Topics without a mapping leave no trace here (broker.traceUnmapped in chamber.json). What speaks now: chamber "
                + "listen");
        }
    }

    private static void Show(Screen screen, Invocation invocation, RefusalsAnswer answer)
    {
        if (answer.Counts.Count == 0)
        {
            screen.Headline("Nothing was refused.");
            return;
        }

        var all = answer.Counts.Sum(row => row.Count);
        screen.Headline($"{CountText.Of(all, "value")} {(all == 1 ? "was" : "were")} refused so far.");
        screen.Table(["Probe", "Reason", ">How often", "Last"], answer.Counts.Select(row => new[]
        {
            row.Probe?.Text ?? "(of no probe)", Choice.Words(row.Reason), row.Count.ToString(CultureInfo.InvariantCulture),
                invocation.Show(row.LastAt),
        }));
        screen.Say();
        screen.Table(["When", "From", "What", "Value", "What to do"], answer.Newest.Select(refusal => new[]
        {
            invocation.Show(refusal.ReceivedAt), refusal.Source, refusal.Quantity ?? "message", refusal.Raw, refusal.Fix,
        }));
    }
}

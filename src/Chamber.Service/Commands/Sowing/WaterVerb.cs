using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Records that a batch was watered, without a count.</summary>
internal static class WaterVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it happened. Default: now." };
        return new Verb("water", "Records that you watered a batch; nothing is counted.", "chamber water T3",
            "chamber water T3 --when 07:40") { batch, when }
            .Does(invocation =>
            {
                var name = invocation.Parse.GetValue(batch).Text;
                var before = invocation.Home.RequireBatch(name);
                var watered = invocation.Batches.Wet(name, new(invocation.Parse.GetValue(when)));
                var at = watered.Wettings.Except(before.Wettings).DefaultIfEmpty(watered.Wettings[^1]).Last();
                invocation.Answer(new { Batch = watered.Id, At = at },
                    screen => screen.Headline($"{watered.Id}: watered {invocation.Show(at)}."));
            });
    }
}

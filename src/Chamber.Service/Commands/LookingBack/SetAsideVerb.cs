using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Says that readings are not to be used.</summary>
internal static class SetAsideVerb
{
    public static Verb Create()
    {
        var probe = Typed.Argument("probe", "Which probe.", text => new ProbeId(text));
        var from = new Option<string>("--from") { HelpName = "TIME", Description = "From when on.", Required = true };
        var to = new Option<string>("--to") { HelpName = "TIME", Description = "Until when, not including that moment.", Required = true };
        var why = new Option<string?>("--why") { HelpName = "TEXT", Description = "Why, for the history." };
        return new Verb("set-aside", "Says that readings of a probe are not to be used: they are kept, and no answer uses them.",
            "chamber set-aside soil-1 --from 2027-02-20 --to 2027-02-21 --why \"fell out of the pot\"") { probe, from, to, why }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var line = invocation.History.SetAside(
                    parse.GetValue(probe), parse.GetValue(from)!, parse.GetValue(to)!, parse.GetValue(why));
                invocation.Answer(line, screen =>
                {
                    screen.Headline($"{char.ToUpperInvariant(line.What[0])}{line.What[1..]}.");
                    screen.Aside($"To use them again: chamber remove {line.Number}");
                });
            });
    }
}

using System.CommandLine;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Watch;

/// <summary>Says that somebody works on a spot or on the whole home, so that only danger is reported of it meanwhile.</summary>
internal static class MaintenanceVerb
{
    private const string Home = "home";

    public static Verb Create()
    {
        var spot = new Argument<string?>("spot") { Description = "Which spot, or home for everything. Default: show what is under way.",
            Arity = ArgumentArity.ZeroOrOne };
        var length = new Argument<string?>("for") { Description = "How long: 30min, 2h; 7d at most.", Arity = ArgumentArity.ZeroOrOne };
        var over = new Option<bool>("--over") { Description = "The work is done: alert as usual." };
        return new Verb("maintenance", "Mutes a spot or the whole home while you work on it; danger breaks through.",
            "chamber maintenance boiler-top 2h", "chamber maintenance home 30min",
            "chamber maintenance boiler-top --over") { spot, length, over }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                if (parse.GetValue(spot) is { } name)
                {
                    Change(invocation, name, parse.GetValue(length), parse.GetValue(over));
                }

                Answer(invocation);
            });
    }

    private static void Change(Invocation invocation, string name, string? length, bool over)
    {
        var spot = name == Home ? null : name;
        var work = new HomeMaintenance(invocation.Writing, invocation.Now);
        if (over)
        {
            work.End(spot);
            return;
        }

        if (spot is not null)
        {
            invocation.Home.RequireSpot(spot);
        }

        work.Begin(spot, DurationText.Parse(length ?? throw new BadInputException($"Say how long: chamber maintenance {name} 2h")));
    }

    private static void Answer(Invocation invocation)
    {
        var works = HomeMaintenance.UnderWay(invocation.Home.Ledger, invocation.Now)
            .Select(work => work with { Spot = work.Spot ?? Home }).ToList();
        invocation.Answer(works, screen =>
        {
            if (works.Count == 0)
            {
                screen.Headline("Nothing is under maintenance; alerts come as usual.");
            }

            foreach (var work in works)
            {
                screen.Headline($"{work.Spot}: under maintenance until {invocation.Show(work.Until)}; only danger is reported.");
            }
        });
    }
}

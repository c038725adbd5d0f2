using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands.Spots;

/// <summary>Adds probes, and moves them from spot to spot.</summary>
internal static class ProbeVerb
{
    public static Verb Create() =>
        new("probe", "Adds probes, and moves them from spot to spot.", "chamber probe move kitchen-1 boiler-top") { Add(), Move(), Lift() };

    private static Verb Add()
    {
        var name = Typed.Argument("name", "The probe's name, as in its topic.", text => new ProbeId(text));
        var measures = Typed.Option<Measurand?>("--measures", "WHAT", "air, media (the mix or towel) or outside-surface.",
            text => Choice.Parse<Measurand>(text));
        var maxGap = Typed.Option<Duration?>("--max-gap", "TIME", "A silence longer than this is a gap. Default: 2h.",
            text => DurationText.Parse(text));
        var handRead =
            new Option<bool>("--hand-read") { Description = "You read this thermometer yourself, so its silence raises no alert." };
        var spot = new Option<string?>("--spot") { HelpName = "SPOT", Description = "Its spot from now on." };
        return new Verb("add", "Adds a probe, or changes the one with this name.",
            "chamber probe add kitchen-1 --measures media --spot boiler-top") { name, measures, maxGap, handRead, spot }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var id = parse.GetValue(name);
                var entry = invocation.Spots.Save(id,
                    new(parse.GetValue(measures), parse.GetValue(maxGap), parse.GetValue(handRead) ? true : null, parse.GetValue(spot)));
                var chosen = parse.GetValue(spot) is { } told ? invocation.Home.RequireSpot(told) : null;
                var answer = new { Probe = id, Measures = entry.Probe.Measurand, MaxGapHours = entry.Probe.MaxGap, entry.HandRead,
                    Spot = chosen?.Id };
                invocation.Answer(answer, Cautions(chosen), screen =>
                {
                    screen.Headline(
                        $"{id} measures {Choice.Words(entry.Probe.Measurand)}{(chosen is null ? string.Empty : $" on {chosen.Id}")}; a "
                        + $"silence over {DurationText.Show(entry.Probe.MaxGap)} is a gap.");
                    TellOfEarlier(invocation, screen, id, chosen);
                });
            });
    }

    private static Verb Move()
    {
        var name = Typed.Argument("probe", "Which probe.", text => new ProbeId(text));
        var spot = new Argument<string>("spot") { Description = "The spot it is on now." };
        var when = new Option<string?>("--when") { HelpName = "TIME",
            Description = "Since when: 07:40, 2026-03-01 or \"2026-03-01 07:40\". Default: now." };
        return new Verb("move", "Moves a probe to a spot.", "chamber probe move kitchen-1 boiler-top",
            "chamber probe move kitchen-1 sill --when \"2027-03-01 07:40\"") { name, spot, when }
            .Does(invocation =>
            {
                var id = invocation.Parse.GetValue(name);
                var station = invocation.Spots.Move(id, new(invocation.Parse.GetValue(spot)!, invocation.Parse.GetValue(when)));
                var (chosen, at) = (invocation.Home.RequireSpot(station.Spot.Text), station.When.Start);
                invocation.Answer(new { Probe = id, Spot = chosen.Id, From = at }, Cautions(chosen), screen =>
                {
                    screen.Headline(station.When.HasEnd
                        ? $"{id} stood on {chosen.Id} from {invocation.Show(at)} to {invocation.Show(station.When.End)}."
                        : $"{id} stands on {chosen.Id} since {invocation.Show(at)}.");
                    TellOfEarlier(invocation, screen, id, chosen);
                });
            });
    }

    private static IReadOnlyList<ShownCaution> Cautions(Spot? chosen) => chosen is null ? [] : [CautionRules.Repeated(chosen.Kind)];

    private static void TellOfEarlier(Invocation invocation, Screen screen, ProbeId id, Spot? chosen)
    {
        if (chosen is not null && UnplacedReadings.First(invocation.Home, id) is { } first)
        {
            screen.Say($"What it said before, since {invocation.Show(first)}, counts for no spot. If it stood there then: "
                + $"{UnplacedReadings.Fix(id, chosen.Id.Text, first, invocation.Zone)}");
        }
    }

    private static Verb Lift()
    {
        var name = Typed.Argument("probe", "Which probe.", text => new ProbeId(text));
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "Since when. Default: now." };
        return new Verb("lift", "Takes a probe off its spot.", "chamber probe lift kitchen-1") { name, when }
            .Does(invocation =>
            {
                var id = invocation.Parse.GetValue(name);
                var at = invocation.Spots.Lift(id, new(invocation.Parse.GetValue(when)));
                invocation.Answer(new { Probe = id, Until = at },
                    screen => screen.Headline($"{id} stands nowhere since {invocation.Show(at)}."));
            });
    }
}

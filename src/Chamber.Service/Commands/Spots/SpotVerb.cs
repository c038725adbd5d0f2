using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Spots;

/// <summary>Sets up spots.</summary>
internal static class SpotVerb
{
    public static Verb Create() =>
        new("spot", "Adds and removes the warm spots of your home.",
        "chamber spot add boiler-top --kind boiler-cupboard --light dark --room 3") { Add(), Remove() };

    private static Verb Add()
    {
        var name = Typed.Argument("name", "Its name, of letters, digits, - _ and .", text => new SpotId(text));
        var kind = Typed.Option<SpotKind?>("--kind", "KIND",
            "shelf, cupboard, boiler-cupboard, heat-mat, appliance-top, electronics, aquarium-side, radiator, sill or "
            + "refrigerator. Decides which cautions are shown.", text => Choice.Parse<SpotKind>(text));
        var light = Typed.Option<LightLevel?>("--light", "LIGHT", "How much light a container gets there: dark, dim or bright.",
            text => Choice.Parse<LightLevel>(text));
        var room = new Option<int?>("--room") { HelpName = "N", Description = "How many containers fit. Default for a new spot: 1." };
        return new Verb("add", "Adds a spot, or changes the one with this name.",
            "chamber spot add boiler-top --kind boiler-cupboard --light dark --room 3",
            "chamber spot add sill --kind sill --light bright") { name, kind, light, room }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var id = parse.GetValue(name);
                var old = invocation.Home.Spots().FirstOrDefault(known => known.Id == id);
                var spot = invocation.Spots.Save(id, new(parse.GetValue(kind), parse.GetValue(light), parse.GetValue(room)));
                var warnings = HomeWarnings.OfSpot(invocation.Home, id);
                invocation.Answer(SpotSaved.Of(spot, warnings), screen =>
                {
                    screen.Headline($"{spot.Id} is {(old is null ? "added" : "changed")}: {Choice.Words(spot.Kind)}, "
                        + $"{Choice.Word(spot.Light)}, room for {spot.Room}.");
                    screen.Say($"Next, put a probe there: chamber probe move PROBE {spot.Id}   or read a thermometer: chamber read "
                        + $"{spot.Id} 22.5C");
                    foreach (var warning in warnings)
                    {
                        screen.Warn(warning);
                    }

                    screen.Warn(CautionRules.SettingUp(spot.Kind, spot.Light));
                });
            });
    }

    private static Verb Remove()
    {
        var name = Typed.Argument("name", "Which spot.", text => new SpotId(text));
        return new Verb("remove", "Removes a spot that was never used.", "chamber spot remove sill") { name }
            .Does(invocation =>
            {
                var id = invocation.Parse.GetValue(name);
                invocation.Spots.Remove(id.Text);
                invocation.Answer(new { Removed = id }, screen => screen.Headline($"{id} is removed."));
            });
    }
}

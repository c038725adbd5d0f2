using System.CommandLine;
using Chamber.Core.Seeds;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Seed;

/// <summary>Records seed: add a lot, count it again, take it out, show one.</summary>
internal static class LotVerb
{
    public static Command Create()
    {
        var verb = new Command("lot", "Records your seed: add, count, remove, show.") { AddVerb(), CountVerb(), RemoveVerb(), ShowVerb() };
        return verb;
    }

    private static Verb AddVerb()
    {
        var options = new LotOptions();
        var verb = new Verb(
            "add",
            "Adds a lot of seed, or changes the one with this name; what you leave out stays as it is.",
            "chamber lot add tomato-24 --crop tomato --seeds 50 --year 2024 --price 1.85 --storage cool-room",
            "chamber lot add bean-own --crop \"snap bean\" --seeds 80 --year 2025 --saved --parent bean-shop",
            "chamber lot add tomato-24 --price 2.20 --forget variety");
        options.AddTo(verb);
        return verb.Does(invocation =>
        {
            var (lot, asked) = options.Read(invocation);
            invocation.Lots.Save(lot, asked);
            Answer(invocation, lot);
        });
    }

    private static Verb CountVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        var seeds = new Argument<int>("seeds") { Description = "How many there are now." };
        return new Verb("count", "Sets how many seeds there are now; later sowings are subtracted.",
            "chamber lot count tomato-24 37") { lot, seeds }
            .Does(invocation =>
            {
                var state = invocation.Lots.Count(invocation.Parse.GetValue(lot)!, new(invocation.Parse.GetValue(seeds)));
                Answer(invocation, state.Lot.Id);
            });
    }

    private static Verb RemoveVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        return new Verb("remove", "Removes a lot that nothing was sown from.", "chamber lot remove tomato-24") { lot }
            .Does(invocation =>
            {
                var removed = invocation.Lots.Remove(invocation.Parse.GetValue(lot)!);
                invocation.Answer(new { Removed = removed }, screen => screen.Headline($"{removed} is removed."));
            });
    }

    private static Verb ShowVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        return new Verb("show", "Shows what is known of one lot, and why.", "chamber lot show tomato-24") { lot }
            .LooksBack()
            .Does(invocation =>
                Answer(invocation, invocation.Home.At(invocation.Now).Seeds.Require(invocation.Parse.GetValue(lot)!).Lot.Id));
    }

    internal static void Answer(Invocation invocation, LotId lot)
    {
        var state = invocation.Home.At(invocation.Now).Seeds.Require(lot.Text);
        invocation.Answer(LotAnswer.Of(state), screen => LotScreen.Show(screen, state));
    }
}

/// <summary>What <c>lot add</c> is given.</summary>
internal sealed class LotOptions
{
    private readonly Argument<LotId> name = Typed.Argument("lot", "A short name, such as tomato-24.", text => new LotId(text));
    private readonly Option<string?> crop =
        new("--crop") { HelpName = "CROP", Description = "The crop, by any of its names; needed for a new lot." };
    private readonly Option<int?> seeds = new("--seeds") { HelpName = "N",
        Description = "How many seeds there are now; needed for a new lot." };
    private readonly Option<string?> variety = new("--variety") { HelpName = "NAME", Description = "The variety." };
    private readonly Option<int?> year = new("--year") { HelpName = "YEAR",
        Description = "The year of harvest, or the one on the packet." };
    private readonly Option<LotYearKind?> kind = Typed.Option<LotYearKind?>("--year-is", "KIND",
        "What that year is: harvested, packed-for or sow-by. Default: harvested for saved seed, otherwise packed-for.", text =>
            Choice.Parse<LotYearKind>(text));
    private readonly Option<bool?> saved = new("--saved") { HelpName = "[false]",
        Description = "You saved it yourself; --saved false means bought." };
    private readonly Option<LotId?> parent = Typed.Option<LotId?>("--parent", "LOT", "The lot whose plants it came from.",
        text => new LotId(text));
    private readonly Option<decimal?> price = Typed.Option<decimal?>("--price", "MONEY", "What it cost.", text => ShareText.Money(text));
    private readonly Option<SeedStorage?> storage = Typed.Option<SeedStorage?>("--storage", "STORAGE",
        "room (default), cool-room, refrigerator-jar, freezer-sealed, damp or warm.", text => Choice.Parse<SeedStorage>(text));
    private readonly Option<bool?> treated = new("--treated") { HelpName = "[false]",
        Description = "Treated with a pesticide (unnatural colour, or the label says so); --treated false takes it back." };
    private readonly Option<double?> stated =
        Typed.Option<double?>("--stated", "SHARE", "The germination stated on the packet, such as 85%.",
        text => ShareText.Parse(text));
    private readonly Option<string?> note = new("--note") { HelpName = "TEXT", Description = "What else you know." };

    private readonly Option<string[]> forget = new("--forget") { HelpName = "WHAT",
        Description = "Clears what was recorded: variety, year, parent, price, stated or note." };

    public void AddTo(Verb verb)
    {
        verb.Add(name);
        foreach (Option option in (Option[])[crop, seeds, variety, year, kind, saved, parent, price, storage, treated,
            stated, note, forget])
        {
            verb.Add(option);
        }
    }

    public (LotId Lot, LotRequest Asked) Read(Invocation invocation)
    {
        var parse = invocation.Parse;
        return (parse.GetValue(name), new(
            parse.GetValue(crop),
            parse.GetValue(seeds),
            parse.GetValue(variety),
            parse.GetValue(year),
            parse.GetValue(kind),
            parse.GetValue(saved),
            parse.GetValue(parent),
            parse.GetValue(price),
            parse.GetValue(storage),
            parse.GetValue(treated),
            parse.GetValue(stated),
            parse.GetValue(note),
            parse.GetValue(forget) is { Length: > 0 } parts
                ? [.. parts.Select(part => BadInputException.In("forget", () => Choice.Parse<LotPart>(part)))] : null));
    }
}

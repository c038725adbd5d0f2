using System.CommandLine;
using Chamber.Core.Seeds;
using Chamber.Service.Home;
using Chamber.Service.Words;

namespace Chamber.Service.Commands;

/// <summary>Writes down seed: add a lot, count it again, take it out, show one.</summary>
internal static class LotVerb
{
    public static Command Create()
    {
        var verb = new Command("lot", "Writes down seed: add, count, remove, show.") { AddVerb(), CountVerb(), RemoveVerb(), ShowVerb() };
        return verb;
    }

    private static Verb AddVerb()
    {
        var options = new LotOptions();
        var verb = new Verb(
            "add",
            "Adds a lot of seed, or changes the one of this name.",
            "chamber lot add tomato-24 --crop tomato --seeds 50 --year 2024 --price 3.50 --storage cool-room",
            "chamber lot add bean-own --crop \"snap bean\" --seeds 80 --year 2025 --saved --parent bean-shop");
        options.AddTo(verb);
        return verb.Does(invocation =>
        {
            var lot = options.Read(invocation);
            invocation.Store.Ledger.Seeds.Save(lot);
            Answer(invocation, lot.Id);
        });
    }

    private static Verb CountVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        var seeds = new Argument<int>("seeds") { Description = "How many there are now; 0 is none." };
        return new Verb("count", "Says how many seeds there are now; what is sown from now on is taken off.", "chamber lot count tomato-24 37") { lot, seeds }
            .Does(invocation =>
            {
                var state = new HomeSeeds(invocation.Home, invocation.Now).Require(invocation.Parse.GetValue(lot)!);
                var counted = invocation.Parse.GetValue(seeds);
                if (counted < 0)
                {
                    throw new BadInputException($"{counted} seeds cannot be; 0 is none.");
                }

                invocation.Store.Ledger.Seeds.Save(state.Lot with
                {
                    Counted = counted,
                    CountedAt = invocation.Now,
                    Bought = state.Lot.Bought ?? (state.Lot.Counted > 0 ? state.Lot.Counted : null),
                });
                Answer(invocation, state.Lot.Id);
            });
    }

    private static Verb RemoveVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        return new Verb("remove", "Takes out a lot that nothing was sown from.", "chamber lot remove tomato-24") { lot }
            .Does(invocation =>
            {
                var state = new HomeSeeds(invocation.Home, invocation.Now).Require(invocation.Parse.GetValue(lot)!);
                invocation.Store.Ledger.Seeds.Remove(state.Lot.Id);
                invocation.Answer(new { Removed = state.Lot.Id }, screen => screen.Headline($"{state.Lot.Id} is taken out."));
            });
    }

    private static Verb ShowVerb()
    {
        var lot = new Argument<string>("lot") { Description = "Which lot." };
        return new Verb("show", "What is known of one lot, and why.", "chamber lot show tomato-24") { lot }
            .Does(invocation => Answer(invocation, new HomeSeeds(invocation.Home, invocation.Now).Require(invocation.Parse.GetValue(lot)!).Lot.Id));
    }

    internal static void Answer(Invocation invocation, LotId lot)
    {
        var state = new HomeSeeds(invocation.Home, invocation.Now).Require(lot.Text);
        invocation.Answer(LotAnswer.Of(state), screen => LotWords.Show(screen, state));
    }
}

/// <summary>What <c>lot add</c> is told.</summary>
internal sealed class LotOptions
{
    private readonly Argument<LotId> name = Typed.Argument("lot", "A short name, such as tomato-24.", text => new LotId(text));
    private readonly Option<string> crop = new("--crop") { Required = true, HelpName = "CROP", Description = "What it is, by any of its names." };
    private readonly Option<int> seeds = new("--seeds") { Required = true, HelpName = "N", Description = "How many seeds there are now." };
    private readonly Option<string?> variety = new("--variety") { HelpName = "NAME", Description = "The variety." };
    private readonly Option<int?> year = new("--year") { HelpName = "YEAR", Description = "The year of harvest, or on the packet." };
    private readonly Option<LotYearKind?> kind = Typed.Option<LotYearKind?>("--year-is", "KIND", "harvested, packed-for or sow-by. Harvested for saved seed, otherwise packed-for.", text => Choice.Parse<LotYearKind>(text));
    private readonly Option<bool> saved = new("--saved") { Description = "Saved by you; otherwise bought." };
    private readonly Option<LotId?> parent = Typed.Option<LotId?>("--parent", "LOT", "The lot whose plants bore it.", text => new LotId(text));
    private readonly Option<decimal?> price = Typed.Option<decimal?>("--price", "MONEY", "What it cost.", text => ShareText.Money(text));
    private readonly Option<StoragePlace?> storage = Typed.Option<StoragePlace?>("--storage", "PLACE", "room (unless told), cool-room, refrigerator-jar, freezer-sealed, damp or warm.", text => Choice.Parse<StoragePlace>(text));
    private readonly Option<bool> treated = new("--treated") { Description = "Treated with a pesticide: an unnatural colour, or the label says so." };
    private readonly Option<double?> stated = Typed.Option<double?>("--stated", "SHARE", "The germination on the packet, as 85%.", text => ShareText.Parse(text));
    private readonly Option<string?> note = new("--note") { HelpName = "TEXT", Description = "What else is known." };

    public void AddTo(Verb verb)
    {
        verb.Add(name);
        foreach (Option option in (Option[])[crop, seeds, variety, year, kind, saved, parent, price, storage, treated, stated, note])
        {
            verb.Add(option);
        }
    }

    public Lot Read(Invocation invocation)
    {
        var parse = invocation.Parse;
        var own = parse.GetValue(saved) || parse.GetValue(parent) is not null;
        var thisYear = invocation.Now.InZone(invocation.Zone).Year;
        if (parse.GetValue(year) is { } typed && (typed < 1900 || typed > thisYear + 10))
        {
            throw new BadInputException($"--year {typed}: write the year with four digits, as {thisYear}.");
        }

        return new(
            parse.GetValue(name),
            invocation.Catalog.Require(parse.GetValue(crop)!).Id,
            parse.GetValue(variety),
            own ? SeedOrigin.Saved : SeedOrigin.Bought,
            parse.GetValue(year),
            parse.GetValue(kind) ?? (own ? LotYearKind.Harvested : LotYearKind.PackedFor),
            parse.GetValue(seeds) is >= 0 and var count ? count : throw new BadInputException("--seeds: 0 or more."),
            invocation.Now,
            parse.GetValue(price),
            null,
            parse.GetValue(storage) ?? StoragePlace.Room,
            parse.GetValue(treated),
            parse.GetValue(parent),
            parse.GetValue(stated),
            parse.GetValue(note));
    }
}

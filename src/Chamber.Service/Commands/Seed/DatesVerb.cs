using System.CommandLine;
using System.Globalization;
using Chamber.Core.Plans;
using Chamber.Core.Spots;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Commands.Seed;

/// <summary>When to sow what, counted back from the last frost with the days to come up on the chosen spot.</summary>
internal static class DatesVerb
{
    public static Verb Create()
    {
        var crops = new Argument<string[]>("crop") { Arity = ArgumentArity.ZeroOrMore,
            Description = "Crops, each with how many plants you want: tomato:12 basil:6. Default: those of the season's plan." };
        var keep = new Option<bool>("--keep") { Description = "Make these crops, and the spot, the season's plan." };
        var frost = KeptOptions.LastFrost();
        var chance = Typed.Option<double?>("--frost-chance", "SHARE", "The chance of frost after that date. Default: 0.5.",
            text => ShareText.Parse(text));
        var spot = new Option<string?>("--spot") { HelpName = "SPOT",
            Description = "The spot where they will come up. Default: the crop's best temperature." };
        var room = Typed.Option<int?>("--light-room", "N",
            "How many pots fit in the light afterwards. It is kept; default: as said last, or 20.",
            text => ShareText.Count(text, Core.Bounds.LightRoom));
        return new Verb(
            "dates",
            "Says when to sow, harden off and plant out, and whether the light has room.",
            "chamber dates tomato:12 basil:6 --last-frost 2027-05-10 --light-room 24",
            "chamber dates \"sweet pepper:6\" --last-frost 2027-05-20 --frost-chance 10% --spot boiler-top",
            "chamber dates tomato:12 basil:6 --last-frost 2027-05-10 --keep") { crops, frost, chance, spot, room, keep }
            .LooksBack()
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var typed = Array.ConvertAll(parse.GetValue(crops) ?? [], text => Wanted.Parse(invocation.Catalog, text));
                var wanted = typed.Length > 0 ? typed : OfPlan(invocation);
                var last = KeptOptions.LastFrost(invocation, parse.GetValue(frost))
                    ?? throw new BadInputException(
                        "--last-frost is needed: in half of all years the last frost is earlier than it, such as 2027-05-10.") { Hint =
                            $"As in: chamber dates {wanted.FirstOrDefault()?.Crop.Id.Text ?? "tomato"} --last-frost 2027-05-10" };
                var share = parse.GetValue(chance) ?? 0.5;
                var date = share is > 0 and < 1 ? new LastFrost(last, share)
                    : throw new BadInputException("--frost-chance must be above 0 and below 1.");
                var name = parse.GetValue(spot) ?? (typed.Length > 0 ? null : PlanSheet.Kept(invocation.Home.Ledger).Spot);
                var chosen = name is { Length: > 0 } ? invocation.Home.RequireSpot(name) : null;
                if (parse.GetValue(keep))
                {
                    Keep(invocation, typed, chosen);
                }

                var plans = Array.ConvertAll(wanted,
                    one => CropDates.Of(invocation.Home, invocation.Now, one, date, chosen, Array.ConvertAll(wanted, other => other.Crop)));
                var weeks = LightRoom.Weeks([.. plans.Select(plan => plan.Lit).OfType<LitPots>()],
                    KeptOptions.LightRoom(invocation, parse.GetValue(room)));
                invocation.Answer(new { Crops = plans.Select(plan => plan.Answer), LightWeeks = weeks },
                    screen => Show(screen, invocation, plans, weeks, chosen));
            });
    }

    private static Wanted[] OfPlan(Invocation invocation)
    {
        var rows = PlanSheet.Kept(invocation.Home.Ledger).Rows.Where(row => row.Crop.Length > 0).ToList();
        return rows.Count > 0 ? [.. rows.Select(row => new Wanted(invocation.Catalog.Require(row.Crop), Math.Max(1, row.Plants)))]
            : throw new BadInputException("The season's plan has no crop yet: name some, and keep them with --keep: "
                + "chamber dates tomato:12 basil:6 --keep");
    }

    // Rows that the page has for the same crop keep their lot and their harvest.
    private static void Keep(Invocation invocation, Wanted[] wanted, Spot? spot)
    {
        if (wanted.Length == 0)
        {
            throw new BadInputException("--keep needs crops: chamber dates tomato:12 basil:6 --keep");
        }

        KeptOptions.Keep(invocation, sheet =>
        {
            sheet.Spot = spot?.Id.Text ?? sheet.Spot;
            sheet.Rows =
            [
                .. wanted.Select(one =>
                {
                    var row = sheet.Rows.Find(known => invocation.Catalog.Find(known.Crop)?.Id == one.Crop.Id)
                        ?? new() { Crop = one.Crop.Id.Text };
                    row.Plants = one.Plants;
                    return row;
                }),
            ];
        });
    }

    private static void Show(Screen screen, Invocation invocation, CropDates[] plans, IReadOnlyList<LightWeek> weeks,
        Spot? spot)
    {
        var today = invocation.Now.InZone(invocation.Zone).Date;
        screen.Table(["Crop", "Sow", "Best", "Up", "Harden", "Plant out", ">Frost", "Pots in light"],
            plans.Select(plan => plan.Dates is { } dates
            ? new[]
            {
                plan.Wanted.Crop.CommonName,
                Days(dates.StartOn, dates.SowBy),
                Day(dates.Aim),
                Days(dates.UpFrom, dates.UpTo),
                Day(dates.HardenFrom),
                Days(dates.PlantOutFrom, dates.PlantOutTo),
                RangeText.Percent(dates.FrostChance),
                plan.Wanted.Plants.ToString(CultureInfo.InvariantCulture),
            }
            : [plan.Wanted.Crop.CommonName, plan.InPlace is { } window ? Days(window.From, window.To) : "in place", "-", "-", "-",
                "-", "-", "-"]));
        foreach (var plan in plans.Where(plan => plan.InPlace is not null))
        {
            screen.Say($"{PlainText.Capital(plan.Wanted.Crop.CommonName)} is sown where it will grow, on the days above: there is nothing "
                + $"to start indoors, harden off or plant out.");
        }

        ShowChills(screen, plans);
        foreach (var mistake in plans.SelectMany(plan => plan.Mistakes).DistinctBy(mistake => mistake.Words))
        {
            screen.Warn(mistake.Words);
        }

        if (weeks.Where(week => week.Over > 0).ToList() is { Count: > 0 } full)
        {
            var worst = full.MaxBy(week => week.Over)!;
            screen.Warn(
                string.Create(CultureInfo.InvariantCulture,
                $"From {TimeText.ShowDay(full[0].Week, today)} on the light is too small ({CountText.Of(full.Count, "week")}): "
                    + $"{worst.Pots} pots, {worst.Over} too many, in the week of {TimeText.ShowDay(worst.Week, today)}. Sow fewer, "
                    + $"or some later."));
        }

        if (plans.FirstOrDefault(plan => plan.Dates is not null) is { Dates: { } first } ladder)
        {
            screen.Say();
            screen.Say($"Hardening off {ladder.Wanted.Crop.CommonName}:");
            screen.Table(["Day", ""], HardeningLadder.For(ladder.Wanted.Crop.Guide, first.HardenFrom, screen.Scale)
                .Select(step => new[] { TimeText.ShowDay(step.On, today), step.What }));
        }

        ShowBasis(screen, plans, spot);
    }

    private static void ShowBasis(Screen screen, CropDates[] plans, Spot? spot)
    {
        screen.Aside("Frost: the chance of one after the first planting-out day. Weeks of growing and offsets from the frost: the "
            + "catalog's sources (chamber crops NAME). Days to come up: forecast "
            + $"{(spot is null ? "at the crop's best temperature" : $"for {spot.Id}")}, right about 4 times in 5.");
        foreach (var basis in plans.Where(plan => plan.Dates is not null).Select(plan => plan.Basis).Distinct())
        {
            screen.Aside(basis);
        }
    }

    private static void ShowChills(Screen screen, CropDates[] plans)
    {
        foreach (var plan in plans)
        {
            if (plan.OutOfColdOn is { } warmFrom)
            {
                screen.Say($"{PlainText.Capital(plan.Wanted.Crop.CommonName)} begins in the refrigerator: sow it there, moist, on the days "
                    + $"above, and bring it into the warmth {plan.Wanted.Crop.Chill!.EnoughDays} days later ({Day(warmFrom)} for the best day).");
            }
        }
    }

    private static string Day(LocalDate day) => day.ToString("d MMM", CultureInfo.InvariantCulture);

    private static string Days(LocalDate from, LocalDate to) => from == to ? Day(from) : $"{Day(from)} to {Day(to)}";
}

using System.CommandLine;
using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Forecasts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Every batch that is under way, with what is up and what is to come.</summary>
internal static class BatchesVerb
{
    public static Verb Create()
    {
        var all = new Option<bool>("--all") { Description = "Include those that have ended." };
        var named = new Argument<string[]>("what") { HelpName = "what", Arity = ArgumentArity.ZeroOrMore,
            Description = "Only these: batches, also ended ones, or those under way of a crop, of a lot or on a spot. Default: all." };
        return new Verb("batches", "Lists the batches under way: what is up, and when the rest will be.", "chamber batches",
            "chamber batches --all --json", "chamber batches T3") { named, all }
            .LooksBack()
            .Does(invocation =>
            {
                var known = invocation.Parse.GetValue(all) ? invocation.Home.Ledger.Batches : invocation.Home.Ledger.OpenBatches;
                var asked = invocation.Parse.GetValue(named) ?? [];
                var batches = asked.Length == 0 ? known : [.. asked.SelectMany(name => Named(invocation, known, name)).Distinct()];
                var diagnoses = invocation.Home.At(invocation.Now).Diagnoses;
                var rows = batches.Select(diagnoses.Of).ToList();
                invocation.Answer(rows.Select(BatchAnswer.Of), screen =>
                {
                    if (rows.Count == 0)
                    {
                        screen.Headline(asked.Length == 0 ? "No batch is under way."
                            : $"No batch of {string.Join(" or ", asked)} is under way.");
                        screen.Say("Record one: chamber sow tomato --seeds 12 --spot SPOT");
                        return;
                    }

                    screen.Table(["Batch", "Crop", "Spot", "Sown", ">Up", "Half up", "Stop waiting"],
                        rows.Select(row => Row(invocation, row)));
                    if (asked is [_] && rows is [{ Batch.EndedAt: null } one])
                    {
                        screen.Say();
                        BatchWords.ShowForecast(screen, invocation, one);
                    }
                });
            });
    }

    // A batch by its name; or, of those that are listed, those of a crop, of a lot or on a spot.
    private static IEnumerable<Batch> Named(Invocation invocation, IReadOnlyList<Batch> known, string name)
    {
        bool Is(string? one) => string.Equals(one, name, StringComparison.OrdinalIgnoreCase);
        var home = invocation.Home;
        if (home.Ledger.Batches.Any(batch => Is(batch.Id.Text)))
        {
            return [home.RequireBatch(name)];
        }

        var crop = invocation.Catalog.Find(name)?.Id;
        return crop is not null || home.Ledger.Lots.Any(lot => Is(lot.Id.Text)) || home.Spots().Any(spot => Is(spot.Id.Text))
            ? known.Where(batch => batch.Crop == crop || Is(batch.Lot?.Text) || (batch.Stays is [.., var stay] && Is(stay.Spot.Text)))
            : [home.RequireBatch(name)];
    }

    /// <exception cref="BadInputException">There is none.</exception>
    public static Batch Require(Invocation invocation, BatchId id) =>
        invocation.Home.RequireBatch(id.Text);

    private static string[] Row(Invocation invocation, BatchOutlook outlook)
    {
        var (batch, forecast) = (outlook.Batch, outlook.Forecast);
        var up = batch.Looks is [.., var last] ? last.Up : 0;
        return
        [
            batch.Id.Text,
            batch.Crop.Text,
            batch.Stays is [.., var stay] ? stay.Spot.Text : "-",
            BatchWords.Day(invocation, batch.SownAt),
            string.Create(CultureInfo.InvariantCulture, $"{up} of {batch.Seeds}"),
            batch.EndedAt is { } ended ? $"ended {BatchWords.Day(invocation, ended)}" : forecast is null ? "cannot say yet"
                : BatchWords.When(invocation, batch, forecast.Half),
            Waiting(invocation, batch, forecast?.Stop),
        ];
    }

    private static string Waiting(Invocation invocation, Batch batch, StopWaiting? stop) => stop switch
    {
        null => "-",
        { AllUp: true } => "all are up",
        _ when batch.IsPastWaiting => "over",
        { NeedsLook: true } => "look first",
        { IsDue: true } => "now",
        { After: { } after } => BatchWords.Day(invocation, batch.SownAt + after),
        _ => "not in sight",
    };
}

/// <summary>Moves a batch to another spot.</summary>
internal static class MoveVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var spot = new Argument<string>("spot") { Description = "The spot it is on now." };
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "Since when. Default: now." };
        return new Verb("move", "Moves a batch to another spot; its history goes with it.",
            "chamber move T3 sill") { batch, spot, when }
            .Does(invocation =>
            {
                var moved = invocation.Batches.Move(invocation.Parse.GetValue(batch).Text,
                    new(invocation.Parse.GetValue(spot)!, invocation.Parse.GetValue(when)));
                var stay = moved.Stays[^1];
                var outlook = invocation.Home.At(invocation.Now).Diagnoses.Of(moved);
                invocation.Answer(BatchAnswer.Of(outlook), HomeWarnings.OfSpot(invocation.Home, stay.Spot), [], screen =>
                {
                    screen.Headline($"{moved.Id} stands on {stay.Spot} since {invocation.Show(stay.When.Start)}.");
                    BatchWords.ShowForecast(screen, invocation, outlook);
                });
            });
    }
}

/// <summary>Ends a batch: planted out, potted up or given up.</summary>
internal static class EndVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it happened. Default: now." };
        return new Verb("end", "Ends a batch: planted out, potted up or given up. It is not watched any more.",
            "chamber end T3") { batch, when }
            .Does(invocation =>
            {
                var ended = invocation.Batches.End(invocation.Parse.GetValue(batch).Text, new(invocation.Parse.GetValue(when)));
                var up = ended.Looks is [.., var last] ? last.Up : 0;
                invocation.Answer(BatchAnswer.Of(invocation.Home.At(invocation.Now).Diagnoses.Of(ended)),
                    screen => screen.Headline($"{ended.Id} has ended "
                    + $"{TimeText.Show(ended.EndedAt!.Value, invocation.Zone, invocation.Now)}: {up} of {ended.Seeds} came up."));
            });
    }
}

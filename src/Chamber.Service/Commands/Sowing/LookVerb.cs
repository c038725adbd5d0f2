using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Records a look at a batch; zero counts too.</summary>
internal static class LookVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var up = new Argument<int>("up") { Description = "How many are up in all; 0 is a look like any other." };
        var note = new Option<string?>("--note") { HelpName = "TEXT", Description = "What else you saw or did: mould, dry, watered." };
        var moisture = Typed.Option<LookMoisture?>("--moisture", "MOISTURE", "How damp it feels: dry, moist (as a wrung sponge) or wet.",
            text => Choice.Parse<LookMoisture>(text));
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it happened. Default: now." };
        return new Verb("look", "Records a look at a batch; zero counts too.", "chamber look T3 0",
            "chamber look T3 5 --when 07:40 --note \"one mouldy\"", "chamber look T3 0 --moisture dry") { batch, up, note, moisture, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var name = parse.GetValue(batch).Text;
                var before = invocation.Home.RequireBatch(name);
                var now = invocation.Batches.Look(name, new(parse.GetValue(up), parse.GetValue(note), parse.GetValue(when),
                    parse.GetValue(moisture)));
                var look = now.Looks.First(one => !before.Looks.Contains(one));
                var outlook = invocation.Home.At(invocation.Now).Diagnoses.Of(now);
                var cautions = HomeCautions.OfRecord(CautionRules.SpeaksOfMould(look.Note));
                invocation.Answer(BatchAnswer.Of(outlook), cautions, screen =>
                {
                    screen.Headline($"{now.Id}: {look.Up} of {now.Seeds} up, seen {invocation.Show(look.At)}.");
                    if (before.Looks.All(earlier => earlier.Up == 0) && look.Up > 0)
                    {
                        screen.Say(now.Method == SowingMethod.DampTowel
                            ? $"The first is up. {(HomeCautions.IsTreated(invocation.Home, now.Lot) ? "In gloves, plant" : "Plant")} those "
                                + $"with a root of 3 to 10 mm into mix today, root down."
                            : "The first is up. Cover off when a third is up, and into the light the same day; a sprout in the warm and "
                                + "dark grows long and pale.");
                    }

                    BatchWords.ShowForecast(screen, invocation, outlook);
                });
            });
    }
}

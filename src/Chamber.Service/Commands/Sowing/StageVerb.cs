using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Records what was done to a batch after it came up, and what was lost.</summary>
internal static class StageVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var kind = Typed.Argument("done", "uncovered, moved-to-light, towel-planted, pricked-out, potted-on, hardening-off or planted-out.",
            Choice.Parse<StageKind>);
        var plants = Typed.Option<int?>("--plants", "N", "How many plants.", text => ShareText.Count(text, Core.Bounds.Seeds));
        var to = new Option<string?>("--to") { HelpName = "SPOT",
            Description = "For moved-to-light: the bright spot it is on now." };
        var note = Note();
        var when = When();
        return new Verb("stage", "Records what you did to a batch: uncovered, moved to the light, pricked out, planted out.",
            "chamber stage T3 moved-to-light --to sill", "chamber stage T3 planted-out --plants 9 --when yesterday") { batch, kind, plants,
            to, note, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var name = parse.GetValue(batch).Text;
                var before = invocation.Home.RequireBatch(name);
                var found = invocation.Batches.Stage(name,
                    new(parse.GetValue(kind), parse.GetValue(plants), parse.GetValue(note), parse.GetValue(when), parse.GetValue(to)));
                var stage = found.Stages.First(one => !before.Stages.Contains(one));
                invocation.Answer(
                    new { Batch = found.Id, stage.Kind, stage.At, stage.Plants },
                    HomeCautions.OfRecord(CautionRules.SpeaksOfMould(stage.Note)),
                    screen =>
                    {
                        var spot = parse.GetValue(to) is null || found.Stays is not [.., var stay] ? "" : $", on {stay.Spot}";
                        screen.Headline($"{found.Id}: {Choice.Words(stage.Kind)} {invocation.Show(stage.At)}{spot}.");
                        TodoVerb.Show(screen, invocation, TodoVerb.For(invocation, found.Id));
                    });
            });
    }

    public static Verb CreateLoss()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var plants = Typed.Argument("plants", "How many were lost.", text => ShareText.Count(text, Core.Bounds.Seeds));
        var cause = Typed.Option<LossCause?>("--to", "CAUSE",
            "damping-off, leggy, dried-out, cold, heat, mould, eaten, handling, thinned or unknown.", text =>
            Choice.Parse<LossCause>(text));
        var note = Note();
        var when = When();
        return new Verb("loss", "Records lost plants, and why.", "chamber loss T3 2 --to damping-off") { batch, plants,
            cause, note, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var name = parse.GetValue(batch).Text;
                var before = invocation.Home.RequireBatch(name);
                var found = invocation.Batches.Lose(name,
                    new(parse.GetValue(plants), parse.GetValue(cause), parse.GetValue(note), parse.GetValue(when)));
                var loss = found.Losses.First(one => !before.Losses.Contains(one));
                var alive = BatchRules.Alive(found);
                invocation.Answer(
                    new { Batch = found.Id, loss.Plants, loss.Cause, loss.At, Alive = alive },
                    HomeCautions.OfRecord(loss.Cause == LossCause.Mould || CautionRules.SpeaksOfMould(loss.Note)),
                    screen =>
                    {
                        screen.Headline(
                            $"{found.Id}: {loss.Plants} lost ({Choice.Words(loss.Cause)}); {alive} {(alive == 1 ? "is" : "are")} left.");
                        if (loss.Cause == LossCause.DampingOff)
                        {
                            screen.Say("There is no cure: take out the fallen, lid off, let the top dry, move the air, water from below.");
                        }
                    });
            });
    }

    private static Option<string?> Note() => new("--note") { HelpName = "TEXT", Description = "What else you saw." };

    private static Option<string?> When() => new("--when") { HelpName = "TIME", Description = "When it happened. Default: now." };
}

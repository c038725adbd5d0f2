using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Service.Words;

namespace Chamber.Service.Commands;

/// <summary>Records what was done to a batch after it came up, and what was lost.</summary>
internal static class StageVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var kind = Typed.Argument("done", "uncovered, moved-to-light, towel-planted, pricked-out, potted-on, hardening-off or planted-out.", Choice.Parse<StageKind>);
        var plants = Typed.Option<int?>("--plants", "N", "How many plants.", text => ShareText.Count(text));
        var note = Note();
        var when = When();
        return new Verb("stage", "Records what was done: uncovered, to the light, pricked out, planted out.", "chamber stage T3 moved-to-light", "chamber stage T3 planted-out --plants 9 --when yesterday") { batch, kind, plants, note, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var found = BatchesVerb.Require(invocation, parse.GetValue(batch));
                var stage = new Stage(parse.GetValue(kind), Past(invocation, when), parse.GetValue(plants), parse.GetValue(note));
                Check(found with { Stages = [.. found.Stages.Append(stage).OrderBy(one => one.At)] });
                invocation.Store.Ledger.Batches.Record(found.Id, stage);
                invocation.Answer(
                    new { Batch = found.Id, stage.Kind, stage.At, stage.Plants },
                    screen =>
                    {
                        screen.Headline($"{found.Id}: {Choice.Words(stage.Kind)} {invocation.Show(stage.At)}.");
                        TodoVerb.Show(screen, invocation, TodoVerb.For(invocation, found.Id));
                    });
            });
    }

    public static Verb CreateLoss()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var plants = Typed.Argument("plants", "How many were lost.", ShareText.Count);
        var cause = Typed.Option<LossCause?>("--to", "CAUSE", "damping-off, leggy, dried-out, cold, heat, mould, eaten, handling, thinned or unknown.", text => Choice.Parse<LossCause>(text));
        var note = Note();
        var when = When();
        return new Verb("loss", "Records plants that were lost, and what to.", "chamber loss T3 2 --to damping-off") { batch, plants, cause, note, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var found = BatchesVerb.Require(invocation, parse.GetValue(batch));
                var loss = new Loss(Past(invocation, when), parse.GetValue(plants), parse.GetValue(cause) ?? LossCause.Unknown, parse.GetValue(note));
                var after = found with { Losses = [.. found.Losses.Append(loss).OrderBy(one => one.At)] };
                Check(after);
                invocation.Store.Ledger.Batches.Record(found.Id, loss);
                var alive = BatchCheck.Alive(after);
                invocation.Answer(
                    new { Batch = found.Id, loss.Plants, loss.Cause, loss.At, Alive = alive },
                    screen =>
                    {
                        screen.Headline($"{found.Id}: {loss.Plants} lost to {Choice.Words(loss.Cause)}; {alive} {(alive == 1 ? "is" : "are")} left.");
                        if (loss.Cause == LossCause.DampingOff)
                        {
                            screen.Say("There is no cure: take out the fallen, lid off, let the top dry, move the air, water from below.");
                        }
                    });
            });
    }

    private static Option<string?> Note() => new("--note") { HelpName = "TEXT", Description = "What else was seen." };

    private static Option<string?> When() => new("--when") { HelpName = "TIME", Description = "When. Now unless told." };

    private static NodaTime.Instant Past(Invocation invocation, Option<string?> when)
    {
        var at = invocation.TimeOf(invocation.Parse.GetValue(when));
        return at <= invocation.Now ? at : throw new BadInputException($"--when {invocation.Parse.GetValue(when)} lies in the future.");
    }

    private static void Check(Batch batch)
    {
        if (BatchCheck.Refuse(batch) is { } refusal)
        {
            throw new BadInputException(refusal);
        }
    }
}

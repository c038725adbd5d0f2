using System.CommandLine;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Forecasts.Together;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>What homes learn from one another, by a file.</summary>
internal static class ExperienceVerb
{
    private const int Shown = 8;

    public static Verb Create() => new Verb("experience",
        "Shows what other homes' batches have given to your forecasts; gives them yours, and takes theirs, as a file.",
        "chamber experience") { Give(), Take(), Forget() }
        .Does(invocation =>
        {
            var kept = ExperienceInUse.Of(invocation.Data);
            var others = kept.Learn();
            invocation.Answer(Answer(kept, others), screen =>
            {
                screen.Headline(others is null ? "Nothing is taken from other homes: forecasts start from the tables."
                    : $"Forecasts start from {CountText.Of(others.Homes, "other home")} with "
                        + $"{CountText.Of(others.Batches, "batch", "batches")}.");
                screen.Aside(others is null ? "To take what somebody gave you: chamber experience take FILE"
                    : "What they say: chamber learned. To do without: chamber experience forget");
            });
        });

    private static Verb Give()
    {
        var file = new Argument<string>("file") { Description = "The file to write." };
        var nothing = new Option<bool>("--nothing") { Description = "Give no batch: whoever takes this file drops what you gave before." };
        return new Verb("give", "Writes what your ended batches have shown, without names and days, for other homes to take.",
            "chamber experience give mine.json", "chamber experience give mine.json --nothing") { file, nothing }
            .Does(invocation =>
            {
                var kept = ExperienceInUse.Of(invocation.Data).Named();
                kept.Keep(invocation.Data);

                var home = invocation.Home;
                var ended = invocation.Parse.GetValue(nothing) ? [] : home.At(invocation.Now).Forecasts.Ended();
                var given = ExperienceGiving.Of(kept.Own!, ended, home.Catalog);
                var target = invocation.Parse.GetValue(file)!;
                ExperienceInUse.Write(target, given);
                var passed = ended.Count - given.Batches.Count;
                invocation.Answer(new { File = target, Batches = given.Batches.Count, PassedOver = passed }, screen =>
                {
                    screen.Headline($"{target} has {CountText.Of(given.Batches.Count, "batch", "batches")}.");
                    screen.Say("Of each: crop, method, kind of spot, age of the seed in years, how much longer it took than the table "
                        + "says, and how sure that is. No name, no day, no reading. It is plain text: read it before you give it away.");
                    if (passed > 0)
                    {
                        screen.Say($"Passed over: {CountText.Of(passed, "batch", "batches")}, of crops with numbers of your own, with too "
                            + "few looks, or older than the newest 120.");
                    }

                    screen.Aside("To take your share back: chamber experience give FILE --nothing, and let them take that.");
                });
            });
    }

    private static Verb Take()
    {
        var file = new Argument<string>("file") { Description = "A file that another home, or a club, gave you." };
        return new Verb("take", "Takes what other homes' batches have shown; what a home gave before is replaced.",
            "chamber experience take theirs.json") { file }
            .Does(invocation =>
            {
                var theirs = ExperienceInUse.Given(invocation.Parse.GetValue(file)!);
                var kept = ExperienceInUse.Of(invocation.Data);
                var fromOthers = theirs.Where(home => home.Home != kept.Own).ToList();
                var rest = kept.Homes.Where(home => fromOthers.All(other => other.Home != home.Home)).ToList();
                var replaced = kept.Homes.Count - rest.Count;
                var merged = kept with { Homes = [.. rest, .. fromOthers.Where(home => home.Batches.Count > 0)] };
                BadInputException.In("file", () => merged.Homes.Count == 0 ? 0 : Core.Bounds.ExperienceHomes.Require(merged.Homes.Count));
                merged.Keep(invocation.Data);
                var others = merged.Learn();
                var answer = new
                {
                    Taken = fromOthers.Count, Replaced = replaced, Homes = others?.Homes ?? 0, Batches = others?.Batches ?? 0,
                };
                var all = merged.Homes.Sum(home => home.Batches.Count);
                invocation.Answer(answer, screen => Show(screen, fromOthers.Count, replaced, others, all));
            });
    }

    private static Verb Forget()
    {
        var home = new Argument<string?>("home")
        {
            Description = "One home, by its name in the file; all of them without.", Arity = ArgumentArity.ZeroOrOne,
        };
        return new Verb("forget", "Drops what other homes gave: forecasts start from the tables again.",
            "chamber experience forget") { home }
            .Does(invocation =>
            {
                var name = invocation.Parse.GetValue(home);
                var kept = name is null ? ExperienceInUse.OfOrNothing(invocation.Data) : ExperienceInUse.Of(invocation.Data);
                if (name is not null && kept.Homes.All(one => one.Home != name))
                {
                    throw BadInputException.Unknown($"No home {name} is kept here.",
                        "The names stand in experience.json of the data directory.");
                }

                var rest = name is null ? [] : kept.Homes.Where(one => one.Home != name).ToList();
                (kept with { Homes = rest }).Keep(invocation.Data);
                invocation.Answer(new { Forgotten = kept.Homes.Count - rest.Count, Homes = rest.Count }, screen =>
                    screen.Headline($"Forgotten: {CountText.Of(kept.Homes.Count - rest.Count, "home")}."
                        + (rest.Count == 0 ? " Forecasts start from the tables again."
                            : $" {CountText.Of(rest.Count, "home")} still count.")));
            });
    }

    private static void Show(Screen screen, int taken, int replaced, SharedKnowledge? others, int batches)
    {
        screen.Headline($"Taken: {CountText.Of(taken, "home")}"
            + (replaced > 0 ? $", in place of what {CountText.Of(replaced, "of them had", "of them had")} given before." : "."));
        if (others is null)
        {
            screen.Say("None has a batch that can be used here: forecasts start from the tables.");
            return;
        }

        screen.Say($"Forecasts now start from {CountText.Of(others.Homes, "other home")} with "
            + $"{CountText.Of(others.Batches, "batch", "batches")}.");
        if (batches > others.Batches)
        {
            screen.Say($"Passed over: {CountText.Of(batches - others.Batches, "batch", "batches")} of crops that this program does not "
                + "have, or has other numbers for.");
        }

        foreach (var learned in others.Learned.Where(learned => learned.IsProved).Take(Shown))
        {
            screen.Say($"{PlainText.Capital(learned.Words)}.");
        }

        screen.Aside("One home can move little, but a file can have many: take it from people you know. All of it: chamber learned. To do "
            + "without: chamber experience forget");
    }

    private static object Answer(ExperienceInUse kept, SharedKnowledge? others) => new
    {
        Gives = kept.Own is not null,
        Homes = others?.Homes ?? 0,
        Batches = others?.Batches ?? 0,
        Kept = kept.Homes.Select(home => new { home.Home, Batches = home.Batches.Count }),
    };
}

using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Watch;

/// <summary>Limits of alerts for one batch or one spot.</summary>
internal static class LimitsVerb
{
    public static Verb Create()
    {
        var what = new Argument<string?>("batch-or-spot") { Arity = ArgumentArity.ZeroOrOne,
            Description = "Which batch, or the spot of whatever stands there. Without it: all that are set." };
        var hot = new Option<string?>("--too-hot") { HelpName = "TEMP", Description = "Too hot above this, such as 30C or 86F." };
        var cold = new Option<string?>("--too-cold") { HelpName = "TEMP", Description = "Too cold below this." };
        var usual = new Option<bool>("--usual") { Description = "The limits of the crop again." };
        return new Verb("limits", "Sets when it is too hot or too cold for one batch or one spot, in place of the crop's own limits.",
            "chamber limits T3 --too-cold 18C", "chamber limits sill --too-hot 30C", "chamber limits T3 --usual",
            "chamber limits") { what, hot, cold, usual }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var (above, below, reset) = (parse.GetValue(hot), parse.GetValue(cold), parse.GetValue(usual));
                if (parse.GetValue(what) is not { } name)
                {
                    if (above is not null || below is not null || reset)
                    {
                        throw new BadInputException("Say for which batch or spot: chamber limits T3 --too-cold 18C");
                    }

                    All(invocation);
                    return;
                }

                if (reset && (above is not null || below is not null))
                {
                    throw new BadInputException("--usual takes both limits away: give it alone.");
                }

                One(invocation, name, above, below, reset);
            });
    }

    private static void All(Invocation invocation)
    {
        var answers = invocation.Home.Ledger.Limits.Select(LimitsAnswer.Of).ToList();
        invocation.Answer(answers, screen =>
        {
            if (answers.Count == 0)
            {
                screen.Headline("No limits of your own are set: each crop's are in force.");
                screen.Say("Set one: chamber limits BATCH-OR-SPOT --too-hot 30C");
                return;
            }

            screen.Table(["Batch or spot", $">Too hot {screen.Scale.Unit()}", $">Too cold {screen.Scale.Unit()}"],
                answers.Select(one => new[] { one.Name, Number(screen, one.TooHot), Number(screen, one.TooCold) }));
        });
    }

    private static void One(Invocation invocation, string name, string? hot, string? cold, bool reset)
    {
        var upkeep = new HomeUpkeep(invocation.Writing, invocation.Now);
        var about = upkeep.Find(name);
        var before = LimitsAnswer.Of(invocation.Home, about);
        var after = hot is null && cold is null && !reset ? before
            : LimitsAnswer.Of(upkeep.Limit(about, reset ? new() : new(hot ?? Typed(before.TooHot), cold ?? Typed(before.TooCold))));
        invocation.Answer(after, screen =>
        {
            screen.Headline(after is { TooHot: null, TooCold: null } ? $"{about}: the limits of the crop are in force." : $"{about}: "
                + string.Join(", ", Parts(screen, after)) + ".");
            screen.Aside(after is { TooHot: null, TooCold: null } ? $"To set your own: chamber limits {about} --too-hot 30C"
                : $"To have those of the crop again: chamber limits {about} --usual");
        });
    }

    private static IEnumerable<string> Parts(Screen screen, LimitsAnswer limits)
    {
        if (limits.TooHot is { } hot)
        {
            yield return $"too hot above {screen.Show(hot)}";
        }

        if (limits.TooCold is { } cold)
        {
            yield return $"too cold below {screen.Show(cold)}";
        }
    }

    private static string? Typed(Temperature? known) => known is { } one ? FormattableString.Invariant($"{one.Celsius}C") : null;

    private static string Number(Screen screen, Temperature? known) => known is { } one ? screen.Scale.Number(one) : "-";
}

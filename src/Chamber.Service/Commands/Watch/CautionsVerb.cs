using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;

namespace Chamber.Service.Commands.Watch;

/// <summary>The catalogue of cautions, or some of them in full.</summary>
internal static class CautionsVerb
{
    public static Verb Create()
    {
        var names = new Argument<string[]>("name") { Arity = ArgumentArity.ZeroOrMore,
            Description = "Which ones, by the names in the list. Default: all, in one line each." };
        return new Verb("cautions", "Lists every caution in one line, or shows some in full with their sources.",
            "chamber cautions", "chamber cautions heat-mat treated-seed", "chamber cautions crop-tomato --json") { names }
            .Does(invocation =>
            {
                var all = HomeCautions.All(invocation.Catalog);
                var asked = (invocation.Parse.GetValue(names) ?? []).Distinct().Select(name => HomeCautions.Require(all, name)).ToList();
                invocation.Answer((asked.Count > 0 ? asked : all).Select(CautionAnswer.Of), screen => Show(screen, all, asked));
            });
    }

    private static void Show(Screen screen, IReadOnlyList<Caution> all, List<Caution> asked)
    {
        foreach (var caution in asked)
        {
            screen.Headline(caution.Name);
            screen.Warn(CautionText.Mark + caution.Full);
            screen.Aside($"Shown {caution.Where}. {PlainText.Capital(caution.Source)}.");
        }

        if (asked.Count == 0)
        {
            screen.Table(["Caution", "In one line"], all.Select(caution => new[] { caution.Name, caution.Line }));
            screen.Say();
            screen.Say("One in full: chamber cautions heat-mat");
        }

        screen.Aside(CautionText.Deference);
    }
}

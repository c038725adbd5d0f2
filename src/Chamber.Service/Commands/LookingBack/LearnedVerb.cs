using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>What this home's batches have taught.</summary>
internal static class LearnedVerb
{
    public static Verb Create() =>
        new Verb("learned", "Shows what your batches have taught: how much faster or slower seed comes up here than in the tables.",
            "chamber learned",
            "chamber learned --json")
            .LooksBack()
            .Does(invocation =>
            {
                var knowledge = invocation.Home.At(invocation.Now).Forecasts.Knowledge;
                invocation.Answer(LearnedAnswer.Of(knowledge), screen => Show(screen, knowledge));
            });

    private static void Show(Screen screen, HomeKnowledge knowledge)
    {
        screen.Headline(LearnedWords.Headline(knowledge));
        if (knowledge.Batches == 0)
        {
            screen.Say("Every look teaches something, even a count of 0: chamber look T3 0");
            Elsewhere(screen, knowledge);
            return;
        }

        screen.Say();
        var certain = LearnedWords.Certain(knowledge);
        foreach (var line in certain.Skip(1))
        {
            screen.Say(line.Sentence);
        }

        var uncertain = LearnedWords.Uncertain(knowledge);
        if (certain.Count > 0 && uncertain.Count > 0)
        {
            screen.Say("Not certain yet:");
        }

        foreach (var line in uncertain)
        {
            screen.Say(line.Sentence);
        }

        foreach (var (_, words) in LearnedWords.Odd(knowledge))
        {
            screen.Warn(words);
        }

        foreach (var apart in LearnedWords.Apart(knowledge))
        {
            screen.Say(apart);
        }

        Elsewhere(screen, knowledge);
        screen.Aside(LearnedWords.Basis);
    }

    private static void Elsewhere(Screen screen, HomeKnowledge knowledge)
    {
        foreach (var line in LearnedWords.Elsewhere(knowledge))
        {
            screen.Say(line);
        }
    }
}

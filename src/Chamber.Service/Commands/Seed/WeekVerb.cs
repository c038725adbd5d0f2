using System.Globalization;
using Chamber.Core.Seeds;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Commands.Seed;

/// <summary>What can be sown this week from one's own seed, and where.</summary>
internal static class WeekVerb
{
    private const int LaterShownMax = 5;

    public static Verb Create()
    {
        var frost = KeptOptions.LastFrost();
        return new Verb("week", "Says what you can sow this week, from your own seed, and where.", "chamber week",
            "chamber week --last-frost \"10 May\"") { frost }
            .Does(invocation =>
            {
                var last = KeptOptions.LastFrost(invocation, invocation.Parse.GetValue(frost));
                var answer = WeekAnswer.Of(invocation.Home, invocation.Now, last);
                var hasLots = invocation.Home.Ledger.Lots.Count > 0;
                invocation.Answer(answer, screen => Show(screen, answer, hasLots));
            });
    }

    private static void Show(Screen screen, WeekAnswer answer, bool hasLots)
    {
        screen.Headline(Headline(answer, hasLots));
        foreach (var (line, spots) in answer.Now.Where(one => one.CautionLine.Length > 0).GroupBy(one => one.CautionLine)
            .Select(same => (same.Key, string.Join(", ", same.Select(one => one.Spot).Distinct()))))
        {
            screen.Warn($"{spots}: {line}");
        }

        if (answer.Now.Count > 0)
        {
            screen.Say();
            screen.Table(["Crop", "Lot", ">Left", "Sow by", "Where", "Why"], answer.Now.Select(one => new[]
            {
                one.Name,
                one.Advice is LotAdvice.TestFirst or LotAdvice.Replace ? $"{one.Lot} (test it first)" : one.Lot.Text,
                one.Left.ToString("#,0", CultureInfo.InvariantCulture),
                one.SowBy is { } day ? TimeText.ShowDay(day, answer.From) : "-",
                one.Outside ? "outside" : one.Spot?.Text ?? "nowhere",
                one.Why,
            }));
        }

        if (answer.Later.Count > 0)
        {
            screen.Say("Next: " + string.Join(", ", answer.Later.Take(LaterShownMax)
                .Select(one => $"{one.Name} from {TimeText.ShowDay(one.From, answer.From)}{(one.Outside ? " outside" : "")}")) + ".");
        }

        if (answer.LastFrost is { } frost)
        {
            screen.Aside($"Counted from your last frost, {TimeText.ShowDay(frost, answer.From)}.");
        }
        else if (hasLots)
        {
            screen.Warn("To know the season, say once when your last frost is: chamber week --last-frost \"10 May\"");
        }
    }

    private static string Headline(WeekAnswer answer, bool hasLots) => (answer.Now.Count, hasLots) switch
    {
        (_, false) => "No seed is recorded yet. Add a lot: chamber lot add tomato-24 --crop tomato --seeds 50 --year 2024",
        (0, _) => "Nothing of your own seed is to be sown this week.",
        _ when answer.LastFrost is null =>
            $"Warm enough somewhere for {string.Join(", ", answer.Now.Select(one => one.Name))}; whether it is their season is not known.",
        _ => $"This week: {string.Join(", ", answer.Now.Select(one => one.Name))}.",
    };
}

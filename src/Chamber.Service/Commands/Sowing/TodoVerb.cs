using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Watching;

namespace Chamber.Service.Commands.Sowing;

/// <summary>What needs a hand, by day.</summary>
internal static class TodoVerb
{
    public static Verb Create()
    {
        var within = new Option<int>("--days") { HelpName = "N", Description = "How many days ahead.", DefaultValueFactory = _ => 14 };
        return new Verb("todo", "Lists what needs doing: look, move to the light, plant from the towel, prick out, harden off, plant out.",
            "chamber todo", "chamber todo --days 60 --json") { within }
            .LooksBack()
            .Does(invocation =>
            {
                var until = invocation.Now.InZone(invocation.Zone).Date.PlusDays(
                    BadInputException.In("days", () => Core.Bounds.DaysAhead.Require(invocation.Parse.GetValue(within))));
                var reminders = new HomeReminders(invocation.Home, invocation.Now).All().Where(reminder => reminder.From <= until).ToList();
                invocation.Answer(reminders, screen => Show(screen, invocation, reminders));
            });
    }

    /// <summary>Says when a batch is to be planted out, so that hardening off and planting out can be reminded of.</summary>
    public static Verb CreatePlantOut()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var day = new Argument<string>("day") { Description = "The day: 2027-05-17, 17.5.2027 or \"17 May\"." };
        return new Verb("plant-out", "Sets the day a batch is to be planted out; reminders count back from it.",
            "chamber plant-out T3 2027-05-17") { batch, day }
            .Does(invocation =>
            {
                var found = invocation.Batches.PlantOut(invocation.Parse.GetValue(batch).Text,
                    invocation.DayOf("day", invocation.Parse.GetValue(day))!.Value);
                var reminders = For(invocation, found.Id);
                invocation.Answer(reminders, screen => Show(screen, invocation, reminders));
            });
    }

    internal static IReadOnlyList<Reminder> For(Invocation invocation, BatchId batch) =>
        [.. new HomeReminders(invocation.Home, invocation.Now).All().Where(reminder => reminder.Batch == batch)];

    internal static void Show(Screen screen, Invocation invocation, IReadOnlyList<Reminder> reminders)
    {
        if (reminders.Count == 0)
        {
            screen.Headline("Nothing needs doing.");
            return;
        }

        var today = invocation.Now.InZone(invocation.Zone).Date;
        screen.Table(["When", "Batch", "What"], reminders.Select(reminder => new[]
        {
            reminder.From <= today ? today <= reminder.To ? "today" : $"since {TimeText.ShowDay(reminder.From, today)}"
                : TimeText.ShowDay(reminder.From, today),
            reminder.Batch.Text,
            reminder.Words,
        }));
    }
}

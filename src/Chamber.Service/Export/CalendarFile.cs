using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Plans;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using NodaTime;

namespace Chamber.Service.Export;

/// <summary>
/// Reminders as a calendar (RFC 5545). Whole days, since nobody can say the hour; a reminder keeps its UID while its day moves,
/// and its SEQUENCE rises with time, so that a phone moves the entry instead of adding one.
/// </summary>
internal static class CalendarFile
{
    private const string Product = "-//Chamber//Seed starting//EN";

    public static string Of(IEnumerable<Reminder> reminders, IEnumerable<(BatchId Batch, LadderStep Step)> ladders,
        Func<BatchId, string> cropOf, Instant now)
    {
        var calendar = new Calendar { ProductId = Product };
        calendar.AddProperty("X-WR-CALNAME", "Chamber");

        // The ladder says each day of hardening off, so its first day needs no separate reminder.
        foreach (var reminder in reminders.Where(reminder => reminder.Kind != ReminderKind.HardenOff))
        {
            calendar.Events.Add(Entry($"{reminder.Batch}-{reminder.Kind}",
                $"{Title(reminder.Kind)}: {reminder.Batch} {cropOf(reminder.Batch)}", reminder.Words, reminder.From, reminder.To, now));
        }

        foreach (var ladder in ladders.GroupBy(rung => rung.Batch))
        {
            foreach (var (day, rung) in ladder.Index())
            {
                calendar.Events.Add(Entry($"{ladder.Key}-HardenOff-{day + 1}",
                    $"Harden off, day {day + 1}: {ladder.Key} {cropOf(ladder.Key)}", rung.Step.What, rung.Step.On, rung.Step.On, now));
            }
        }

        return new CalendarSerializer().SerializeToString(calendar)
            ?? throw new InvalidOperationException("The calendar came out empty.");
    }

    private static CalendarEvent Entry(string name, string title, string words, LocalDate from, LocalDate to, Instant now)
    {
        var entry = new CalendarEvent
        {
            Uid = $"{name}@chamber",
            Summary = title,
            Description = words,
            Start = Day(from),
            End = Day(to.PlusDays(1)),
            DtStamp = new CalDateTime(now.ToDateTimeUtc()),

            // Minutes since 2020 fit an integer until the year 6000 and never fall.
            Sequence = (int)(now - Instant.FromUtc(2020, 1, 1, 0, 0)).TotalMinutes,
            Transparency = TransparencyType.Transparent,
        };
        entry.Alarms.Add(
            new Alarm { Action = "DISPLAY", Description = title, Trigger = new Trigger(Ical.Net.DataTypes.Duration.FromHours(8)) });
        return entry;
    }

    private static CalDateTime Day(LocalDate day) => new(day.Year, day.Month, day.Day);

    private static string Title(ReminderKind kind) => kind switch
    {
        ReminderKind.Look => "Look",
        ReminderKind.ToTheLight => "To the light",
        ReminderKind.PlantFromTowel => "Plant from the towel",
        ReminderKind.PrickOut => "Prick out",
        ReminderKind.PlantOut => "Plant out",
        ReminderKind.CallTest => "Count the test",
        ReminderKind.Chill => "Into the cold",
        ReminderKind.EndChill => "Out of the cold",
        _ => "Stop waiting",
    };
}

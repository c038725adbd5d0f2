using System.CommandLine;
using Chamber.Core.Alerts;
using Chamber.Core.Cautions;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Watching;
using NodaTime;

namespace Chamber.Service.Commands.Watch;

/// <summary>Alerts that are open, or all of the last weeks; and what people do with them.</summary>
internal static class AlertsVerb
{
    private static readonly Duration Lately = Duration.FromDays(30);

    public static Verb Create()
    {
        var all = new Option<bool>("--all") { Description = "Include those closed in the last 30 days." };
        var verb = new Verb("alerts", "Shows what is wrong now, how bad it is, and what to do.", "chamber alerts",
            "chamber alerts --all --json", "chamber alerts seen 4") { all, Seen(), Mute() };
        return verb.LooksBack().Does(invocation =>
        {
            var style = new WordStyle(!invocation.Json && invocation.Screen.Scale == TemperatureScale.Fahrenheit, invocation.Zone);
            var alerts = new HomeAlerts(invocation.Home, style);
            var answers = (invocation.Parse.GetValue(all) ? alerts.All(invocation.Now - Lately) : alerts.Open())
                .Select(one => one.Words).ToList();
            invocation.Answer(answers, screen => Show(screen, invocation, answers));
        });
    }

    private static Verb Seen()
    {
        var number = new Argument<long>("number") { Description = "Which alert." };
        var by = new Option<string?>("--by") { HelpName = "NAME", Description = "Who has seen it." };
        return new Verb("seen", "Marks an alert as seen.", "chamber alerts seen 4 --by Ada") { number, by }
            .Does(invocation =>
            {
                var asked = invocation.Parse.GetValue(number);
                invocation.Pen.Alerts.See(asked,
                    BadInputException.In("by", () => Core.Bounds.PersonName.Require(invocation.Parse.GetValue(by))) ?? OwnUser.Name,
                    invocation.Now);
                invocation.Answer(new { Number = asked, SeenAt = invocation.Now },
                    screen => screen.Headline($"Alert {asked} is marked as seen."));
            });
    }

    private static Verb Mute()
    {
        var number = new Argument<long>("number") { Description = "Which alert." };
        var length = Typed.Argument("for", "How long: 2h, 1d.", text => Core.Bounds.Quiet.Require(DurationText.Parse(text)));
        return new Verb("mute", "Mutes an alert for a while; danger breaks through.", "chamber alerts mute 4 2h") { number, length }
            .Does(invocation =>
            {
                var asked = invocation.Parse.GetValue(number);
                var until = invocation.Now + invocation.Parse.GetValue(length);
                invocation.Pen.Alerts.Mute(asked, until);
                invocation.Answer(new { Number = asked, MutedUntil = until },
                    screen => screen.Headline($"Alert {asked} is quiet until {invocation.Show(until)}."));
            });
    }

    private static void Show(Screen screen, Invocation invocation, List<AlertAnswer> answers)
    {
        if (answers.Count == 0)
        {
            if (invocation.IsPast || invocation.IsWatched)
            {
                screen.Headline("All is well: no alert is open.");
                return;
            }

            screen.Headline("No alert is open, but nothing is being watched: the service is not running.");
            screen.Say("Start it: chamber run");
            return;
        }

        var once = new CautionsOnce();
        foreach (var alert in answers)
        {
            screen.Headline($"{alert.Number}  {alert.Title} ({Choice.Words(alert.Severity)}, {State(invocation, alert)})");
            foreach (var line in new[] { alert.What, alert.Harm, alert.ToDo })
            {
                if (line.Length > 0)
                {
                    screen.Say("   " + line);
                }
            }

            Warn(screen, once.Of(alert));
        }
    }

    private static void Warn(Screen screen, IReadOnlyList<ShownCaution> cautions)
    {
        var (full, lines) = (cautions.Where(shown => shown.InFull).ToList(), cautions.Where(shown => !shown.InFull).ToList());
        if (full.Count > 0)
        {
            screen.Warn($"   {CautionText.Of(full)}");
        }

        if (lines.Count > 0)
        {
            screen.Warn($"   {CautionText.Lines(lines)} ({CautionText.More(lines)})");
        }
    }

    private static string State(Invocation invocation, AlertAnswer alert) => alert switch
    {
        { ClosedAt: { } closed } => $"closed {invocation.Show(closed)}",
        { MutedUntil: { } until } when until > invocation.Now =>
            $"open since {invocation.Show(alert.Since)}, quiet until {invocation.Show(until)}",
        { SeenBy: { } by } => $"open since {invocation.Show(alert.Since)}, seen by {by}",
        _ => $"open since {invocation.Show(alert.Since)}",
    };
}

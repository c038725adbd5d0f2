using System.CommandLine;
using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Notify;
using Chamber.Service.Workers;

namespace Chamber.Service.Commands.Watch;

/// <summary>Notices that wait, those that were given up, and what to do with them.</summary>
internal static class NoticesVerb
{
    public static Verb Create() =>
        new Verb("notices", "Lists the channels, what is waiting to be sent, and what was given up and why.", "chamber notices",
            "chamber notices resend 12", "chamber notices drop all") { Resend(), Drop(), Template() }
            .Does(invocation =>
            {
                using var channels = NoticeParts.Channels(invocation.Context);
                var state = HomeNotices.Read(invocation.Store, channels);
                invocation.Answer(state, screen => Show(screen, invocation, state));
            });

    private static Verb Resend()
    {
        var which = Which("sent again");
        return new Verb("resend", "Tries a notice again that was given up.",
            "chamber notices resend 12") { which }
            .Does(invocation =>
            {
                var outbox = invocation.Store.Ledger.Notices;
                var numbers = NumberOf(invocation.Parse.GetValue(which)!) is { } number ? [number]
                    : outbox.Dead(Storage.NoticeOutbox.DeadMax).Select(dead => dead.Number).ToList();
                numbers.ForEach(one => outbox.Revive(one, invocation.Now));
                invocation.Answer(new { Resent = numbers },
                    screen => screen.Headline($"{Count(numbers.Count)} will be tried again while the service runs."));
            });
    }

    private static Verb Drop()
    {
        var which = Which("dropped");
        return new Verb("drop", "Deletes a notice that waits or was given up.",
            "chamber notices drop 12") { which }
            .Does(invocation =>
            {
                var outbox = invocation.Store.Ledger.Notices;
                var dropped = 1;
                if (NumberOf(invocation.Parse.GetValue(which)!) is { } number)
                {
                    outbox.Drop(number);
                }
                else
                {
                    dropped = outbox.DropDead();
                }

                invocation.Answer(new { Dropped = dropped }, screen => screen.Headline($"{Count(dropped)} dropped."));
            });
    }

    private static Verb Template()
    {
        var form = Typed.Argument("name", $"Which: {string.Join(", ", Enum.GetValues<NoticeForm>().Select(Choice.Word))}.",
            Choice.Parse<NoticeForm>);
        return new Verb("template", "Prints the usual text of a notice, to base your own on; see docs/notices.md.",
            "chamber notices template alert-opened") { form }
            .Does(invocation =>
            {
                var asked = invocation.Parse.GetValue(form);
                var answer = new { File = Path.Combine(invocation.Data.Templates, NoticeTemplates.FileOf(asked)),
                    Names = NoticeTemplates.NamesOf(asked), Text = NoticeTemplates.UsualText(asked) };
                invocation.Answer(answer, screen => screen.Say(answer.Text));
            });
    }

    private static Argument<string> Which(string done) =>
        new("number") { Description = $"The number of the notice to be {done}, or \"all\"." };

    /// <summary>Null for all.</summary>
    private static long? NumberOf(string text) => text == "all"
        ? null
        : long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? number
            : throw new BadInputException($"\"{text}\" is not the number of a notice: chamber notices lists them; or write all.");

    private static void Show(Screen screen, Invocation invocation, HomeNotices state)
    {
        if (state.Channels.Count == 0)
        {
            screen.Headline("No channel is set up: alerts go only to the console, to MQTT and to chamber alerts.");
            screen.Say("Set up e-mail, a webhook or Web Push under \"notices\" in chamber.json: see docs/notices.md.");
        }
        else
        {
            screen.Headline(state.GivenUp.Count == 0 ? "Every notice was sent, or waits for its next try."
                : $"{Count(state.GivenUp.Count)} given up.");
            screen.Table(["Channel", "Last sent"],
                state.Channels.Select(channel => new[] { channel.Channel, channel.LastSentAt is { } at ? invocation.Show(at) : "never" }));
        }

        List(screen, invocation, "Waiting", state.Waiting);
        List(screen, invocation, "Given up", state.GivenUp);
    }

    private static void List(Screen screen, Invocation invocation, string heading, IReadOnlyList<NoticeState> notices)
    {
        if (notices.Count == 0)
        {
            return;
        }

        screen.Say();
        screen.Table(
            [heading, "Channel", "Since", ">Tries", "Next", "What, and why it is not sent"],
            notices.Select(notice => new[]
            {
                notice.Number.ToString(CultureInfo.InvariantCulture),
                notice.Channel,
                invocation.Show(notice.CreatedAt),
                notice.Attempts.ToString(CultureInfo.InvariantCulture),
                notice.NextAt is { } next ? DurationText.Show(NodaTime.Duration.Max(NodaTime.Duration.Zero, next - invocation.Now)) : "-",
                notice.Reason is { } reason ? $"{notice.Title}. {reason}" : notice.Title,
            }));
    }

    private static string Count(int notices) =>
        notices == 1 ? "1 notice" : string.Create(CultureInfo.InvariantCulture, $"{notices} notices");
}

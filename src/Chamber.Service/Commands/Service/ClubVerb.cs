using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Forwarding;
using Chamber.Service.Mirror;

namespace Chamber.Service.Commands.Service;

/// <summary>How far the club has the readings of this home.</summary>
internal static class ClubVerb
{
    public static Verb Create() =>
        new Verb("club", "Shows how far the club of homes has the readings of this one.", "chamber club", "chamber club --json")
            .Does(invocation => Show(invocation, Status(invocation)));

    private static ForwardStatus Status(Invocation invocation)
    {
        var club = invocation.Settings.Club ?? throw new BadInputException("This home sends its readings to no club. Name the club's "
            + $"broker in {invocation.Data.Settings}: \"club\": {{ \"host\": \"club.example\", \"home\": \"mill-lane-4\", "
            + "\"user\": \"mill-lane-4\", \"passwordFile\": \"club-password.txt\" }");
        using var hold = SendingHold.TryTake(invocation.Data.ClubLock);
        return ForwardStatus.Of(invocation.Store, ForwardCursor.Load(invocation.Store, club.Target()), invocation.Now,
            isSending: hold is null);
    }

    private static void Show(Invocation invocation, ForwardStatus status) => invocation.Answer(status, screen =>
    {
        screen.Headline(status.Behind is { } behind
            ? string.Create(CultureInfo.InvariantCulture,
                $"The club ({status.Target}) is {DurationText.Show(behind)} behind: {status.Unsent:#,0} readings wait in the journal.")
            : $"The club ({status.Target}) has every reading.");
        screen.Say(string.Create(CultureInfo.InvariantCulture,
            $"{status.Sent:#,0} readings confirmed{(status.SentAt is { } at ? $", the last {invocation.Show(at)}" : string.Empty)}."));
        screen.Aside(status.IsSending ? "The service is sending." : "Nothing is sent while the service does not run: chamber run");
    });
}

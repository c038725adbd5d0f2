using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Takes back the last thing that whoever types has done.</summary>
internal static class UndoVerb
{
    public static Verb Create() =>
        new Verb("undo", "Takes back the last thing that you wrote down; again, the one before it.", "chamber undo")
            .Does(invocation =>
            {
                var undone = invocation.History.Undo();
                invocation.Answer(undone, screen => Say(screen, undone));
            });

    internal static void Say(Screen screen, IReadOnlyList<HistoryLine> undone)
    {
        screen.Headline($"Taken back: {string.Join("; ", undone.Reverse().Select(line => line.What))}.");
        screen.Aside("It stays in the record: chamber history");
    }
}
